import { createHash } from 'node:crypto';

/** Columns that a file of refused rows has in front. */
export const REFUSED_COLUMNS = ['row', 'reason'] as const;

export const isOfRefusedRows = (header: readonly string[]): boolean => REFUSED_COLUMNS.every((column, index) => header[index] === column);

/** Files with the same columns get the mapping of the last one; so does a file of refused rows that comes back corrected. */
export function fingerprintOf(header: readonly string[]): string {
  return createHash('sha256').update(JSON.stringify(isOfRefusedRows(header) ? header.slice(REFUSED_COLUMNS.length) : header)).digest('hex');
}
