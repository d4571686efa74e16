import { solveLinear } from '#statistics/numeric/solve-linear';
import { runLengthOfRules } from '#statistics/power/run-length-of-rules';
import { WESTERN_ELECTRIC } from '#statistics/rules/run-rules';
import { type BenchRow, interleaved } from './measure.js';

const RUNS = 15;
const WARM_UP = 4;
const SIZE = 500;

/**
 * Exact run length of the four zone rules, chain and all, against one solution of 500 dense linear equations in the same
 * process; and in milliseconds.
 */
export async function benchRules(): Promise<BenchRow[]> {
  const matrix = Array.from({ length: SIZE }, (_, i) => Float64Array.from({ length: SIZE }, (_unused, j) => (i === j ? SIZE : Math.cos(i * j + i))));
  const ones = new Float64Array(SIZE).fill(1);
  let check = 0;
  const { base, cost } = await interleaved(RUNS, WARM_UP, async () => { check += solveLinear(matrix, ones)[0] ?? Number.NaN; }, async (turn) => {
    check += runLengthOfRules(WESTERN_ELECTRIC, (turn % 4) / 2).arl ?? Number.NaN;
  });
  if (!Number.isFinite(check)) throw new Error('the benchmark computed nothing');
  const detail = `${cost.toFixed(1)} ms to ${base.toFixed(1)} ms, medians of ${RUNS}`;
  return [
    { name: 'exact run length of four zone rules, milliseconds', ratio: cost, aim: 50, detail },
    { name: 'exact run length of four zone rules, to one solution of 500 dense linear equations', ratio: cost / base, aim: 1, detail },
  ];
}
