import { it } from 'vitest';
import { agrees, agreesExactly } from '../../test/published/agrees.js';
import heatFlow from '../../test/published/heat-flow-meter.json' with { type: 'json' };
import datasets from '../../test/published/r-datasets.json' with { type: 'json' };
import { univariateSets } from '../../test/published/strd.js';
import { shape } from './capability/shape.js';
import { equalSpreads } from './charts/equal-spreads.js';
import { lagCorrelation } from './choosing/autocorrelation.js';
import { varianceComponents } from './choosing/variance-components.js';
import { repeatability } from './gauges/repeatability.js';
import { straightLine } from './gauges/straight-line.js';
import { mean } from './numeric/mean.js';
import { range } from './numeric/range.js';
import { standardDeviation } from './numeric/standard-deviation.js';

const dataOf = (name: string): readonly number[] => univariateSets.find((set) => set.name === name)?.values ?? [];
const places = (values: readonly number[]): number[] => values.map((_, i) => i + 1);

/** Printed in the summaries of the case studies; quoted from memory and recomputed with SciPy, which gives all digits quoted. */
const CASES = [
  { study: 'beam deflections', section: '1.4.2.5', values: dataOf('Lew'), mean: -177.435, sd: 277.3322, range: 879, lagOne: -0.307, line: { intercept: -178.175, interceptSe: 39.47, slope: 0.007366, slopeSe: 0.34, t: 0.022, sd: 278.0313 }, bartlett: null },
  { study: 'filter transmittance', section: '1.4.2.6', values: dataOf('Mavro'), mean: 2.0019, sd: 0.0004, range: 0.0014, lagOne: 0.938, line: { intercept: 2.00138, interceptSe: 0.9695e-4, slope: 0.1847e-4, slopeSe: 0.3309e-5, t: 5.582, sd: 0.3376e-3 }, bartlett: null },
  { study: 'heat flow meter', section: '1.4.2.8', values: heatFlow.values, mean: 9.261460, sd: 0.022789, range: 0.131125, lagOne: 0.281, line: { intercept: 9.26699, interceptSe: 0.3253e-2, slope: -0.5641e-4, slopeSe: 0.2878e-4, t: -1.96, sd: 0.022624 }, bartlett: 3.147 },
] as const;

it.each(CASES)('$study: location, spread, drift, memory', ({ section, values, mean: centre, sd, range: width, lagOne, line, bartlett }) => {
  const source = `NIST/SEMATECH e-Handbook ${section} (from memory, recomputed)`;
  /** Half a unit of the fourth digit printed. */
  const printed = { rel: 6e-4 };
  agrees({ method: 'Mean', source }, mean(values), centre, { rel: 5e-5 }, 'mean');
  agrees({ method: 'Standard deviation', source }, standardDeviation(values), sd, sd < 0.001 ? { abs: 5e-5 } : { rel: 5e-5 }, 'sd');
  agrees({ method: 'Range', source }, range(values), width, { rel: 1e-9 }, 'range');
  agrees({ method: 'Lag-1 autocorrelation', source }, lagCorrelation(values, 1).r, lagOne, { abs: 5e-4 }, 'lag 1');
  const fitted = straightLine(places(values), values);
  const drift = { method: 'Straight line', source };
  agrees(drift, fitted.intercept.estimate, line.intercept, printed, 'intercept');
  agrees(drift, fitted.intercept.se, line.interceptSe, printed, 'se of the intercept');
  agrees(drift, fitted.slope.estimate, line.slope, printed, 'slope');
  agrees(drift, fitted.slope.se, line.slopeSe, { rel: 2e-3 }, 'se of the slope');
  agrees(drift, fitted.slope.t, line.t, { rel: 1e-4, abs: 5e-4 }, 't of the slope');
  agrees(drift, fitted.residualSd, line.sd, printed, 'residual sd');
  if (bartlett === null) return;
  const quarters = [0, 1, 2, 3].map((i) => values.slice(Math.floor((values.length * i) / 4), Math.floor((values.length * (i + 1)) / 4)));
  const test = equalSpreads(quarters.map((part) => ({ sd: standardDeviation(part), freedom: part.length - 1 })));
  agrees({ method: "Bartlett's test", source }, test.statistic, bartlett, { abs: 5e-4 }, 'four quarters');
  agreesExactly({ method: "Bartlett's test", source }, test.freedom, 3, 'degrees of freedom');
});

it.each(datasets.series)('$name: what R says of its mean, spread, memory and drift', (set) => {
  const { name, values } = set;
  const source = 'R 4.2.2 mean, sd, acf, t.test, lm';
  const digits = { rel: 1e-11, abs: 1e-15 };
  agrees({ method: 'Mean', source }, mean(values), set.mean, { rel: 1e-14 }, name);
  agrees({ method: 'Standard deviation', source }, standardDeviation(values), set.sd, { rel: 1e-13 }, name);
  for (const [i, r] of set.lags.entries()) agrees({ method: 'Autocorrelation', source }, lagCorrelation(values, i + 1).r, r, digits, `${name}, lag ${i + 1}`);
  const fitted = straightLine(places(values), values);
  const line = { method: 'Straight line', source };
  for (const [what, got, expected] of [
    ['slope', fitted.slope.estimate, set.slope], ['se', fitted.slope.se, set.slopeSe], ['p', fitted.slope.p, set.slopeP], ['low', fitted.slope.low, set.slopeLow],
    ['high', fitted.slope.high, set.slopeHigh], ['residual sd', fitted.residualSd, set.residualSd], ['R squared', fitted.rSquared, set.rSquared],
  ] as const) agrees(line, got, expected, digits, `${name}, ${what}`);
  const { bias } = repeatability(values, 0);
  agrees({ method: 't interval of a mean', source }, bias?.low, set.low, digits, `${name}, low`);
  agrees({ method: 't interval of a mean', source }, bias?.high, set.high, digits, `${name}, high`);
  const { skewness, kurtosis } = shape(values);
  agrees({ method: 'Skewness', source: 'R 4.2.2 mean of powers' }, skewness, set.skewness, { rel: 1e-11, abs: 1e-14 }, name);
  agrees({ method: 'Kurtosis', source: 'R 4.2.2 mean of powers' }, kurtosis, set.kurtosis, { rel: 1e-11 }, name);
});

it.each(datasets.groups)("$name: R's one-way analysis of variance and Bartlett's test", (set) => {
  const { name, values, labels } = set;
  const source = 'R 4.2.2 anova, bartlett.test';
  const [between, within] = varianceComponents({ names: ['group'], labels: [labels], values }).components;
  const check = { method: 'One-way analysis of variance', source };
  agrees(check, between?.ss, set.between, { rel: 1e-11 }, `${name}, between`);
  agrees(check, within?.ss, set.within, { rel: 1e-12 }, `${name}, within`);
  agrees(check, between?.test?.f, set.f, { rel: 1e-11 }, `${name}, F`);
  agrees(check, between?.test?.p, set.p, { rel: 1e-9 }, `${name}, p`);
  const test = equalSpreads(set.sds.map((sd, i) => ({ sd, freedom: (set.sizes[i] ?? Number.NaN) - 1 })));
  agrees({ method: "Bartlett's test", source }, test.statistic, set.bartlett, { rel: 1e-11 }, `${name}, statistic`);
  agrees({ method: "Bartlett's test", source }, test.p, set.bartlettP, { rel: 1e-10 }, `${name}, p`);
});
