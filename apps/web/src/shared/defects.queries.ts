import { useQuery } from '@tanstack/react-query';
import { listDefects } from '#contract/knowledge';
import { call } from './http.js';

/** The taxonomy belongs to the program: it changes only with a new version. */
export const useDefects = () => useQuery({ queryKey: ['defects'], queryFn: ({ signal }) => call(listDefects, { signal }), staleTime: Number.POSITIVE_INFINITY });

/** "body-maker" as people say it. */
export const stepWords = (kind: string): string => kind.replaceAll('-', ' ');
