import { standardDeviation } from '../numeric/standard-deviation.js';
import { type EqualSpreads, equalSpreads } from './equal-spreads.js';
import { type ChartKind, varies } from './limits-basis.js';
import { type ShewhartChart, shewhartChart } from './shewhart.js';
import { type SubgroupStatistics, subgroupStatistics } from './subgroup.js';

/** One check of a short run: what ran, its nominal, and the readings (null = missing) in the same unit. */
export type ProductCheck = { readonly product: string; readonly nominal: number; readonly readings: readonly (number | null)[] };

export type ProductSpread = {
  readonly product: string;
  readonly checks: number;
  readonly readings: number;
  /** Mean of reading less nominal: what the product is off its nominal. */
  readonly meanDeviation: number | null;
  /** Sd of one reading: pooled within checks, or of the individuals; null where the product has too few. */
  readonly sd: number | null;
  readonly freedom: number;
};

export type DeviationChart = ShewhartChart & {
  readonly products: readonly ProductSpread[];
  /** Bartlett's test on the spreads of the products; null where fewer than two can be compared. */
  readonly test: EqualSpreads | null;
  /**
   * Whether one pair of limits can serve them all: 'alike', 'differ' (p below the significance, or one product does
   * not vary while another does), 'unknown' (fewer than two products have a spread).
   */
  readonly spreads: 'alike' | 'differ' | 'unknown';
};

/**
 * Chart of deviations from nominal for short runs of several products on one machine: each reading less the nominal
 * of its product, then means with ranges or sds, or individuals, of the deviations.
 * It holds only where the products vary alike, so their spreads are compared and the outcome is part of the answer.
 * Source: the chart as in Montgomery, Introduction to Statistical Quality Control, "Control charts for short production
 * runs" (DNOM chart; from memory); the test as equalSpreads. Unit of the readings.
 * @param checks in the order they were made; for individuals each check counts as its mean deviation
 * @param significance below this p the spreads are said to differ
 * @throws RangeError when a nominal is not finite, a product has two nominals, or the deviations are too few or do not vary
 */
export function deviationFromNominal(kind: ChartKind, checks: readonly ProductCheck[], significance = 0.05): DeviationChart {
  if (!(significance > 0 && significance < 1)) throw new RangeError(`deviationFromNominal: needs a significance strictly between 0 and 1, ${significance} given`);
  const nominals = new Map<string, number>();
  const subgroups = checks.map(({ product, nominal, readings }, index) => {
    if (!Number.isFinite(nominal)) throw new RangeError(`deviationFromNominal: needs a finite nominal, check ${index + 1} has ${nominal}`);
    const before = nominals.get(product) ?? nominal;
    if (before !== nominal) throw new RangeError(`deviationFromNominal: needs one nominal a product, check ${index + 1} has ${nominal} after ${before}`);
    nominals.set(product, nominal);
    return subgroupStatistics(readings.map((reading) => (reading === null ? null : reading - nominal)));
  });
  const chart = shewhartChart(kind, subgroups);
  const products = [...nominals.keys()].map((product) => spreadOf(product, kind, subgroups.filter((_, index) => checks[index]?.product === product)));
  return { ...chart, products, ...compare(products, chart.basis.centre, significance) };
}

function spreadOf(product: string, kind: ChartKind, subgroups: readonly SubgroupStatistics[]): ProductSpread {
  const present = subgroups.flatMap(({ n, mean, sd }) => (mean === null ? [] : [{ n, mean, sd }]));
  const readings = present.reduce((sum, { n }) => sum + n, 0);
  const meanDeviation = readings === 0 ? null : present.reduce((sum, { n, mean }) => sum + (n / readings) * mean, 0);
  const about = { product, checks: present.length, readings, meanDeviation };
  if (kind === 'i-mr') {
    const freedom = Math.max(0, present.length - 1);
    return { ...about, freedom, sd: freedom === 0 ? null : standardDeviation(present.map(({ mean }) => mean)) };
  }
  const freedom = present.reduce((sum, { n }) => sum + n - 1, 0);
  const squares = present.reduce((sum, { n, sd }) => sum + (n - 1) * (sd ?? 0) ** 2, 0);
  return { ...about, freedom, sd: freedom === 0 ? null : Math.sqrt(squares / freedom) };
}

function compare(products: readonly ProductSpread[], centre: number, significance: number): Pick<DeviationChart, 'test' | 'spreads'> {
  const known = products.flatMap(({ sd, freedom }) => (sd === null ? [] : [{ sd, freedom }]));
  if (known.length < 2) return { test: null, spreads: 'unknown' };
  // No variation at all is no small sd: no test is needed to tell it from some.
  if (!known.every(({ sd }) => varies(sd, centre))) return { test: null, spreads: 'differ' };
  const test = equalSpreads(known);
  return { test, spreads: test.p < significance ? 'differ' : 'alike' };
}
