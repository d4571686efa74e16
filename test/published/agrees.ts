import { expect } from 'vitest';
import { getCurrentTest } from 'vitest/suite';
import { expectWithin, type Tolerance } from './within.js';

/** What is checked, and the publication or the program that the expected value is from. Words of the table in libs/statistics/README.md. */
export type Check = { readonly method: string; readonly source: string };

/** One value compared: digits that agree, null where the match is exact by nature (a list, a count, a size). */
export type Agreement = Check & { readonly digits: number | null };

declare module 'vitest' {
  interface TaskMeta { agreements?: Agreement[] }
}

/** expectWithin, and the digits that agree are noted for the table. Fails outside the tolerance. */
export function agrees(check: Check, got: number | null | undefined, expected: number, tolerance: Tolerance, what: string): void {
  expectWithin(got, expected, tolerance, `${check.method}, ${what}`);
  note({ ...check, digits: digitsOf(got ?? Number.NaN, expected) });
}

/** Equality of what admits no rounding: signals, counts, sample sizes, decisions. */
export function agreesExactly(check: Check, got: unknown, expected: unknown, what: string): void {
  expect(got, `${check.method}, ${what}`).toEqual(expected);
  note({ ...check, digits: null });
}

/** Significant digits that agree, 0 to 15; against an expected 0 the decimals. */
export function digitsOf(got: number, expected: number): number {
  const error = Math.abs(got - expected) / (expected === 0 ? 1 : Math.abs(expected));
  return error === 0 ? 15 : Math.max(0, Math.min(15, Math.floor(-Math.log10(error))));
}

function note(agreement: Agreement): void {
  const test = getCurrentTest();
  if (!test) throw new Error('an agreement is noted inside a test only');
  test.meta.agreements = [...(test.meta.agreements ?? []), agreement];
}
