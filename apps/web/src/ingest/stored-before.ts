import type { ImportView } from '#contract/ingest';

/** Readings of the file that were there before it: a file that is brought again stores none, and nothing is wrong with it. */
export const storedBefore = ({ state, readings, stored }: Pick<ImportView, 'state' | 'readings' | 'stored'>): number => (state === 'done' ? Math.max(0, readings - stored) : 0);
