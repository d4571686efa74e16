import { useContext, useMemo } from 'react';
import { type Format, makeFormat } from '../shared/format.js';
import { SessionContext } from '../shared/session.js';

/** Numbers and moments also where nobody is signed in: then in universal time. */
export function usePlainFormat(): Format {
  const zone = useContext(SessionContext)?.plant?.timeZone ?? 'UTC';
  return useMemo(() => makeFormat(zone), [zone]);
}
