import { expect, it } from 'vitest';
import simulated from '../../../../test/published/fit-p-values.json' with { type: 'json' };
import { agrees } from '../../../../test/published/agrees.js';
import { gammaFitP, weibullFitP } from './fit-p-values.js';

const source = simulated.source;
/** The last level, 0.001, is known from some sixty samples only. */
const upTo = (level: number) => level >= 0.01;

it.each(simulated.weibull)('Weibull, $n values, at the simulated levels', ({ n, a2 }) => {
  simulated.levels.forEach((level, i) => { if (upTo(level)) agrees({ method: 'p of Anderson-Darling, weibull', source }, weibullFitP(a2[i] ?? Number.NaN, n), level, { rel: 0.07 }, `${n} values, ${level}`); });
});

it.each(simulated.gamma)('gamma of shape $shape, $n values, at the simulated levels', ({ n, shape, a2 }) => {
  simulated.levels.forEach((level, i) => { if (upTo(level)) agrees({ method: 'p of Anderson-Darling, gamma', source }, gammaFitP(a2[i] ?? Number.NaN, n, shape), level, { rel: 0.135 }, `${n} values, shape ${shape}, ${level}`); });
});

it('at the critical values in print for many values', () => {
  const print = "D'Agostino & Stephens 1986 (from memory)";
  for (const [critical, p] of [[0.474, 0.25], [0.637, 0.1], [0.757, 0.05], [0.877, 0.025], [1.038, 0.01]] as const) {
    agrees({ method: 'p of Anderson-Darling, weibull', source: `${print}, table 4.17` }, weibullFitP(critical, 1e9), p, { rel: 0.03 }, `A2 ${critical}`);
  }
  const rows = [
    [1, 0.486, 0.657, 0.786, 0.917, 1.092], [2, 0.477, 0.643, 0.768, 0.894, 1.062], [5, 0.472, 0.635, 0.758, 0.881, 1.045], [20, 0.47, 0.632, 0.753, 0.875, 1.037],
  ] as const;
  for (const [shape, ...criticals] of rows) criticals.forEach((critical, i) => { agrees({ method: 'p of Anderson-Darling, gamma', source: `${print}, table 4.21` }, gammaFitP(critical, 1e9, shape), [0.25, 0.1, 0.05, 0.025, 0.01][i] ?? Number.NaN, { rel: 0.03 }, `shape ${shape}, A2 ${critical}`); });
});

it('falls all the way from small to large statistics', () => {
  for (const n of [8, 30, 1e6]) {
    for (const p of [(a2: number) => weibullFitP(a2, n), (a2: number) => gammaFitP(a2, n, 0.1), (a2: number) => gammaFitP(a2, n, 50)]) {
      let before = 1;
      for (let a2 = 0.05; a2 < 20; a2 *= 1.02) {
        expect(p(a2)).toBeLessThanOrEqual(before);
        before = p(a2);
      }
      expect(before).toBeLessThan(1e-20);
    }
  }
});
