import type { Side } from '../rules/verdict.js';

export type ExtremeRunRule = {
  readonly heads: number;
  /** Times in a row the same head must be the extreme. */
  readonly run: number;
  /** Chance that the next run - 1 checks after any one name the same head again, all heads being alike: heads^-(run-1). */
  readonly probability: number;
  /** Checks between false alarms on one side on the average, (heads^run - 1)/(heads - 1). */
  readonly averageRunLength: number;
};

/** A head that has been the highest ('above') or the lowest ('below') `length` times in a row, from `from` to `index`. */
export type ExtremeRun = { readonly index: number; readonly head: number; readonly side: Side; readonly length: number; readonly from: number };

/** Between false alarms of the limits of one mean on the average: 1/0.0027. */
const AS_RARE_AS_THE_LIMITS = 370;

/**
 * How many times in a row one of s alike, independent heads may be the extreme before it is no accident.
 * The average run length is that of a run of one face of a fair die of s sides, 1 + s + ... + s^(run-1).
 * Source: Nelson 1986, Journal of Quality Technology 18; the formula (s^r-1)/(s-1) as in Montgomery, Introduction to
 * Statistical Quality Control, "Group control charts" (from memory).
 * @param run left out: the smallest with an average run length of 370 checks or more
 * @throws RangeError when heads is not whole from 2 to 1000 or run not whole from 2 to 100
 */
export function runRuleFor(heads: number, run?: number): ExtremeRunRule {
  if (!Number.isInteger(heads) || heads < 2 || heads > 1000) throw new RangeError(`runRuleFor: needs a whole number of heads from 2 to 1000, ${heads} given`);
  if (run !== undefined && (!Number.isInteger(run) || run < 2 || run > 100)) throw new RangeError(`runRuleFor: needs a whole run from 2 to 100, ${run} given`);
  const average = (length: number): number => (heads ** length - 1) / (heads - 1);
  let chosen = run ?? 2;
  while (run === undefined && average(chosen) < AS_RARE_AS_THE_LIMITS) chosen += 1;
  return { heads, run: chosen, probability: heads ** (1 - chosen), averageRunLength: average(chosen) };
}

/**
 * Every check at which a head has been the extreme `run` times in a row or more; each further check is listed as well.
 * A tie names all its heads, and each of their runs goes on; a check that names none ends all runs.
 * @param named for each check the heads that are the extreme
 */
export function extremeRuns(named: readonly (readonly number[])[], side: Side, run: number): ExtremeRun[] {
  let lengths = new Map<number, number>();
  return named.flatMap((heads, index) => {
    lengths = new Map(heads.map((head) => [head, (lengths.get(head) ?? 0) + 1]));
    return [...lengths].flatMap(([head, length]) => (length >= run ? [{ index, head, side, length, from: index - length + 1 }] : []));
  });
}
