/** One line of an analysis of variance; sums of squares in the squared unit of the readings. */
export type MeanSquare = { readonly ss: number; readonly df: number; readonly ms: number };

export const meanSquare = (ss: number, df: number): MeanSquare => ({ ss, df, ms: ss / df });

/** F of two mean squares and the probability of a larger one; null where the divisor does not vary. */
export type FTest = { readonly f: number; readonly p: number } | null;

/** A balanced table of readings, each as its difference from the first one: that keeps the digits of its spread. */
export type BalancedTable = {
  readonly outer: number;
  readonly middle: number;
  readonly inner: number;
  readonly origin: number;
  /** Outer, then middle, then inner index. */
  readonly differences: Float64Array;
};

/** What the three levels are called in a refusal, and how many of each are needed. */
export type Levels = { readonly outer: string; readonly middle: string; readonly inner: string; readonly least: number };

/**
 * Checks that every cell is filled alike.
 * @throws RangeError when a level has too few, a cell is uneven, or a reading is not finite (1-based positions are named)
 */
export function balancedTable(readings: readonly (readonly (readonly number[])[])[], levels: Levels, caller: string): BalancedTable {
  const [outer, middle, inner] = [readings.length, readings[0]?.length ?? 0, readings[0]?.[0]?.length ?? 0];
  for (const [name, count, least] of [[levels.outer, outer, levels.least], [levels.middle, middle, 2], [levels.inner, inner, 2]] as const) {
    if (count < least) throw new RangeError(`${caller}: needs at least ${least} ${name}, ${count} given`);
  }
  const origin = readings[0]?.[0]?.[0] as number;
  const differences = new Float64Array(outer * middle * inner);
  let at = 0;
  readings.forEach((row, i) => {
    if (row.length !== middle) throw new RangeError(`${caller}: needs ${middle} ${levels.middle} throughout, ${row.length} given at ${i + 1}`);
    row.forEach((cell, j) => {
      if (cell.length !== inner) throw new RangeError(`${caller}: needs ${inner} ${levels.inner} throughout, ${cell.length} given at ${i + 1}, ${j + 1}`);
      cell.forEach((reading, k) => {
        if (!Number.isFinite(reading)) throw new RangeError(`${caller}: needs finite readings, ${String(reading)} given at ${i + 1}, ${j + 1}, ${k + 1}`);
        differences[at] = reading - origin;
        at += 1;
      });
    });
  });
  if (!differences.every(Number.isFinite)) throw new RangeError(`${caller}: needs readings whose differences are within the range of numbers, larger ones given`);
  return { outer, middle, inner, origin, differences };
}

/** @throws RangeError when one of the figures left the range of numbers */
export function requireInRange(figures: readonly number[], caller: string): void {
  if (!figures.every(Number.isFinite)) throw new RangeError(`${caller}: needs readings whose squares are within the range of numbers, larger ones given`);
}

/** @throws RangeError when confidence is not strictly between 0 and 1 */
export function requireConfidence(confidence: number, caller: string): void {
  if (!(confidence > 0 && confidence < 1)) throw new RangeError(`${caller}: needs a confidence strictly between 0 and 1, ${confidence} given`);
}
