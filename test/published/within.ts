import { expect } from 'vitest';

export type Tolerance = { readonly rel?: number; readonly abs?: number };

/** Passes when |got - expected| <= abs + rel * |expected|. A null or NaN never passes. */
export function expectWithin(got: number | null | undefined, expected: number, tolerance: Tolerance, what: string): void {
  const allowed = (tolerance.abs ?? 0) + (tolerance.rel ?? 0) * Math.abs(expected);
  const difference = typeof got === 'number' ? Math.abs(got - expected) : Number.NaN;
  expect(difference <= allowed, `${what}: got ${String(got)}, expected ${expected} within ${allowed}`).toBe(true);
}
