import { mean } from '../numeric/mean.js';
import { standardDeviation } from '../numeric/standard-deviation.js';
import { requireConfidence, requireInRange } from './mean-square.js';
import { straightLine, type Tested, tested } from './straight-line.js';

/** Readings of one master. */
export type MasterReadings = { readonly reference: number; readonly values: readonly number[] };

export type BiasLinearity = {
  readonly masters: readonly {
    readonly reference: number;
    readonly n: number;
    readonly bias: number;
    /** Null for a single reading. */
    readonly sd: number | null;
    /** Of this master's readings alone. */
    readonly test: Tested | null;
    /** The line there, and the band in which its mean lies. */
    readonly fitted: number;
    readonly low: number;
    readonly high: number;
    /** The line of no bias is inside the band. */
    readonly zeroInside: boolean;
  }[];
  readonly averageBias: number;
  readonly line: { readonly n: number; readonly slope: Tested; readonly intercept: Tested; readonly residualSd: number; readonly rSquared: number | null };
  /** |slope| times the process variation given: how much the bias changes across the process; null where it is not given. */
  readonly linearity: number | null;
  /** |slope| and |average bias| over the process variation; parts of 1. */
  readonly linearityOfProcess: number | null;
  readonly biasOfProcess: number | null;
};

/**
 * Bias of a gauge over its range: bias = reading - reference, regressed on the reference. A gauge is unbiased over the range
 * where the line of no bias lies inside the band everywhere; slope and intercept are tested by t with n-2 df.
 * Source: the automotive industry reference manual on measurement systems analysis, 3rd ed., chapter III, "Guidelines for
 * determining linearity"; the regression is that of Draper & Smith (straightLine).
 * @param masters two or more different references, in the unit of the readings
 * @param processVariation six sd of the process, in that unit, or null
 * @throws RangeError under 2 different references or 3 readings, not finite, too large, or with options out of range
 */
export function biasLinearity(masters: readonly MasterReadings[], processVariation: number | null = null, confidence = 0.95): BiasLinearity {
  const caller = 'biasLinearity';
  requireConfidence(confidence, caller);
  if (processVariation !== null && !(processVariation > 0 && Number.isFinite(processVariation))) throw new RangeError(`${caller}: needs a process variation above 0 or null, ${processVariation} given`);
  const x: number[] = [];
  const y: number[] = [];
  masters.forEach(({ reference, values }, i) => {
    if (!Number.isFinite(reference)) throw new RangeError(`${caller}: needs finite references, master ${i + 1} is ${reference}`);
    if (values.length === 0) throw new RangeError(`${caller}: needs at least 1 reading of every master, master ${i + 1} has 0`);
    values.forEach((value, k) => {
      if (!Number.isFinite(value)) throw new RangeError(`${caller}: needs finite readings, reading ${k + 1} of master ${i + 1} is ${String(value)}`);
      x.push(reference);
      y.push(value - reference);
    });
  });
  if (new Set(x).size < 2) throw new RangeError(`${caller}: needs at least 2 different references, ${new Set(x).size} given`);
  const { at, ...line } = straightLine(x, y, confidence);
  const averageBias = mean(y);
  const rows = masters.map(({ reference, values }) => {
    const biases = values.map((value) => value - reference);
    const n = values.length;
    const bias = mean(biases);
    const sd = n < 2 ? null : standardDeviation(biases);
    const { fitted, low, high } = at(reference);
    return { reference, n, bias, sd, test: sd === null ? null : tested(bias, sd / Math.sqrt(n), n - 1, confidence), fitted, low, high, zeroInside: low <= 0 && high >= 0 };
  });
  const steep = Math.abs(line.slope.estimate);
  const shares = processVariation === null ? null : { linearity: steep * processVariation, biasOfProcess: Math.abs(averageBias) / processVariation };
  requireInRange([shares?.linearity ?? 0, shares?.biasOfProcess ?? 0], caller);
  return { masters: rows, averageBias, line, linearity: shares?.linearity ?? null, linearityOfProcess: shares === null ? null : steep, biasOfProcess: shares?.biasOfProcess ?? null };
}
