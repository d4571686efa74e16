import { expect, it } from 'vitest';
import { expectedCounts, type Fit } from './expected-counts.js';
import { histogramFigure, probabilityFigure, tickScores } from './distribution.figure.js';

const likelihood = { n: 100, logLikelihood: 0, aic: 0 };

it('puts into the bins what the fit expects: about 68.27 % of a normal within one sigma, nothing below a threshold', () => {
  const normal: Fit = { family: 'normal', mean: 10, sd: 2, ...likelihood };
  const [below, within, above] = expectedCounts(normal, [-90, 8, 12, 110], 1000);
  expect(within).toBeCloseTo(682.689492137, 6);
  expect(below).toBeCloseTo(158.655253931, 6);
  expect(above).toBeCloseTo(158.655253931, 6);
  const exponential: Fit = { family: 'weibull', threshold: 5, shape: 1, scale: 2, ...likelihood };
  expect(expectedCounts(exponential, [0, 5, 7], 100)[0]).toBe(0);
  expect(expectedCounts(exponential, [0, 5, 7], 100)[1]).toBeCloseTo(100 * (1 - Math.exp(-1)), 9);
  const sameAsGamma: Fit = { family: 'gamma', threshold: 5, shape: 1, scale: 2, ...likelihood };
  expect(expectedCounts(sameAsGamma, [5, 7, 9], 100)[1]).toBeCloseTo(expectedCounts(exponential, [5, 7, 9], 100)[1] ?? 0, 9);
  const lognormal: Fit = { family: 'lognormal', threshold: 0, mu: Math.log(3), sigma: 0.4, ...likelihood };
  expect(expectedCounts(lognormal, [0, 3, 1e9], 10)[0]).toBeCloseTo(5, 9);
});

it('hatches the bars outside the specification and labels the limits', () => {
  const words = { axis: 'hook (mm)', count: 'readings', bars: 'measured', outside: 'outside', fit: 'normal', lsl: 'LSL 1', usl: 'USL 3', target: 'target 2', bin: (low: number, high: number, count: number) => `${low} to ${high}: ${count}` };
  const { data, layout } = histogramFigure({ edges: [0, 1, 2, 3, 4], counts: [1, 5, 4, 0] }, [1, 2, 3, 4], { lsl: 1, target: null, usl: 3 }, words);
  expect(data.map(({ name }) => name)).toEqual(['measured', 'outside', 'normal']);
  expect(data[1]).toMatchObject({ x: [0.5, 3.5], y: [1, 0], marker: { pattern: { shape: '/' } } });
  expect(layout.annotations?.map(({ text, x }) => [text, x])).toEqual([['LSL 1', 1], ['USL 3', 3]]);
  expect(histogramFigure({ edges: [0, 1], counts: [3] }, null, { lsl: null, target: null, usl: null }, words).data).toHaveLength(1);
});

it('marks points outside the band, and labels the axis with shares between the points', () => {
  const points = [{ order: 1, value: 1, p: 0.2, score: -0.84, line: 1.1, low: 0.5, high: 1.5 }, { order: 2, value: 2, p: 0.5, score: 0, line: 2, low: 1.5, high: 2.5 }, { order: 3, value: 9, p: 0.8, score: 0.84, line: 2.9, low: 2.5, high: 3.5 }];
  const words = { axis: 'hook', share: 'share', points: 'readings', pointsOutside: 'outside the band', line: 'normal', band: 'band', point: (value: number) => String(value) };
  const fit: Fit = { family: 'normal', mean: 2, sd: 1, ...likelihood };
  const { data, layout } = probabilityFigure({ fit, points, leftOut: 0, outside: 1 }, words);
  expect(layout.xaxis?.type).toBe('linear');
  expect(data.find(({ name }) => name === 'outside the band')).toMatchObject({ x: [9], y: [0.84], marker: { symbol: 'diamond' } });
  expect(tickScores({ fit, points })).toEqual([{ share: 0.25, score: expect.closeTo(-0.674489750196, 9) }, { share: 0.5, score: expect.closeTo(0, 12) }, { share: 0.75, score: expect.closeTo(0.674489750196, 9) }]);
  const weibull: Fit = { family: 'weibull', threshold: 0, shape: 2, scale: 3, ...likelihood };
  expect(tickScores({ fit: weibull, points }).map(({ score }) => score)).toEqual([0.25, 0.5, 0.75].map((share) => expect.closeTo(Math.log(-Math.log(1 - share)), 12)));
  expect(probabilityFigure({ fit: weibull, points, leftOut: 0, outside: 1 }, words).layout.xaxis?.type).toBe('log');
  expect(tickScores({ fit, points: [] })).toEqual([]);
});
