import type { z } from 'zod';
import { chart, type chartAnswer, type chartBody } from '#contract/workbench/charts';
import { cChart, npChart, pChart, uChart, type AttributeChart } from '#statistics/charts/attribute';
import { betweenWithinChart } from '#statistics/charts/between-within';
import { cusumChart } from '#statistics/charts/cusum';
import { deviationFromNominal } from '#statistics/charts/deviation-from-nominal';
import { ewmaChart } from '#statistics/charts/ewma';
import { gapChart } from '#statistics/charts/gap-chart';
import { groupChart } from '#statistics/charts/group-chart';
import { judgePanel, rulesFor } from '#statistics/charts/judge-panel';
import { baselineLimits, type ChartKind, type LimitsBasis } from '#statistics/charts/limits';
import type { Panel } from '#statistics/charts/panel';
import { shewhartChart } from '#statistics/charts/shewhart';
import { subgroupStatistics } from '#statistics/charts/subgroup';
import { timeChart } from '#statistics/charts/time-chart';
import { weightedSeries } from '#statistics/charts/weighted-series';
import { computes, type Method } from '../method.js';

type Body = z.output<typeof chartBody>;
type Of<Kind extends Body['kind']> = Extract<Body, { kind: Kind }>;
type Answer = z.input<typeof chartAnswer>;
type Note = Answer['notes'][number];
/** An answer before its panels are judged. */
type Drawn = Omit<Answer, 'kind' | 'panels' | 'notes'> & { panels: readonly Panel[]; notes: readonly Note[] };

const estimatesOf = ({ centre, sigma, spreadCentre }: LimitsBasis): Answer['estimates'] => ({ centre, sigma, spreadCentre });
const asSubgroups = (values: readonly (number | null)[]) => values.map((value) => subgroupStatistics([value]));

function shewhart(kind: ChartKind, rows: readonly (readonly (number | null)[])[], baseline: number | undefined): Drawn {
  const subgroups = rows.map((row) => subgroupStatistics(row));
  const { basis, panels } = shewhartChart(kind, subgroups, baselineLimits(kind, subgroups.slice(0, baseline ?? subgroups.length)));
  return { panels, notes: [], estimates: estimatesOf(basis) };
}

function betweenWithin({ subgroups, spread }: Of<'between-within'>): Drawn {
  const { panels, centre, sigmaOfMeans, sigmaWithin, sigmaBetween, varianceBetween, sigmaTotal } = betweenWithinChart(subgroups.map((row) => subgroupStatistics(row)), spread);
  return { panels, notes: varianceBetween > 0 ? [] : ['no-between'], estimates: { centre, sigmaOfMeans, sigmaWithin, sigmaBetween, varianceBetween, sigmaTotal } };
}

function deviation({ chart: kind, checks, significance }: Of<'deviation-from-nominal'>): Drawn {
  const { panels, basis, products, test, spreads } = deviationFromNominal(kind, checks, significance);
  const notes: Note[] = spreads === 'differ' ? ['spreads-differ'] : spreads === 'unknown' && products.length > 1 ? ['spreads-unknown'] : [];
  return { panels, notes, estimates: estimatesOf(basis), products: [...products], equalSpreads: test };
}

function attribute({ panel, centre, sigmaZ }: AttributeChart, laney = false): Drawn {
  return { panels: [panel], notes: panel.sigma.some((sigma) => sigma !== null) ? [] : ['no-variation'], estimates: { centre, ...(laney ? { sigmaZ } : {}) } };
}

function gaps(body: Of<'g'>): Drawn {
  const { panel, proportion, proportionMle, meanGap, falseAlarm, shortGapSignals } = gapChart(body.gaps, body.falseAlarm, body.proportion);
  return {
    panels: [panel], notes: shortGapSignals ? ['below-means-more-often'] : ['short-gap-cannot-signal'],
    estimates: { proportion, proportionMle, meanGap, falseAlarmBelow: falseAlarm.below, falseAlarmAbove: falseAlarm.above },
  };
}

function times(body: Of<'t'>): Drawn {
  const { panel, meanTime, transformed } = timeChart(body.times, body.falseAlarm, body.method);
  return {
    panels: [panel], notes: panel.lower.some((limit) => limit !== null) ? ['below-means-more-often'] : ['no-lower-limit'],
    estimates: { meanTime, ...(transformed === null ? {} : { transformedCentre: transformed.centre, transformedSigma: transformed.sigma }) },
  };
}

const seriesOf = ({ values, subgroups, sigma }: Of<'ewma'> | Of<'cusum'>) =>
  weightedSeries(values === undefined ? (subgroups ?? []).map((row) => subgroupStatistics(row)) : asSubgroups(values), sigma);
/** The sigma of all plotted values where they share one. */
const commonSigma = (sigmas: readonly (number | null)[]): number | null => {
  const present = sigmas.filter((sigma) => sigma !== null);
  return present.every((sigma) => sigma === present[0]) ? (present[0] ?? null) : null;
};

function ewma(body: Of<'ewma'>): Drawn {
  const series = seriesOf(body);
  const { lambda, factor, limits, target = series.centre } = body;
  const common = commonSigma(series.sigmas);
  const { panel } = ewmaChart(series.points, { lambda, factor, limits, target, sigma: common ?? series.sigmas });
  return { panels: [panel], notes: [], estimates: { centre: series.centre, target, sigma: common ?? series.sigma } };
}

function cusum(body: Of<'cusum'>): Drawn {
  const series = seriesOf(body);
  const { k, h, headStart, target = series.centre } = body;
  const sigma = commonSigma(series.sigmas);
  if (sigma === null) throw new RangeError('cusumChart: needs subgroups of one size, since all sums share one K and H; sizes that differ given');
  const { panels, above, below, countAbove, countBelow, signals } = cusumChart(series.points, { target, sigma, k, h, headStart });
  return {
    panels, notes: [], estimates: { centre: series.centre, target, sigma },
    cusum: { above: [...above], below: [...below], countAbove: [...countAbove], countBelow: [...countBelow], signals: [...signals] },
  };
}

function group({ heads, checks, spread, run }: Of<'group'>): Drawn {
  const wrong = checks.findIndex((check) => check.length !== heads.length);
  if (wrong >= 0) throw new RangeError(`groupChart: needs one list of readings a head, ${heads.length} heads and ${checks[wrong]?.length ?? 0} lists at check ${wrong + 1} given`);
  const answer = groupChart(checks, spread, run);
  const nameOf = (head: number): string => heads[head] ?? String(head);
  const named = <T extends { readonly head: number }>(list: readonly T[]) => list.map((entry) => ({ ...entry, head: nameOf(entry.head) }));
  return {
    panels: answer.panels, notes: [], estimates: { centre: answer.centre, sigma: answer.sigma },
    group: {
      heads, sigmaFrom: answer.sigmaFrom, highest: answer.highest.map((list) => list.map(nameOf)), lowest: answer.lowest.map((list) => list.map(nameOf)),
      beyond: named(answer.beyond), run: answer.rule.run, probability: answer.rule.probability, averageRunLength: answer.rule.averageRunLength, runs: named(answer.runs),
    },
  };
}

function draw(body: Body): Drawn {
  switch (body.kind) {
    case 'xbar-r': case 'xbar-s': return shewhart(body.kind, body.subgroups, body.baseline);
    case 'i-mr': return shewhart('i-mr', body.values.map((value) => [value]), body.baseline);
    case 'between-within': return betweenWithin(body);
    case 'deviation-from-nominal': return deviation(body);
    case 'p': return attribute(pChart(body.counts, body.sizes));
    case 'p-prime': return attribute(pChart(body.counts, body.sizes, 'laney'), true);
    case 'np': return attribute(npChart(body.counts, body.size));
    case 'c': return attribute(cChart(body.counts));
    case 'u': return attribute(uChart(body.counts, body.sizes));
    case 'u-prime': return attribute(uChart(body.counts, body.sizes, 'laney'), true);
    case 'g': return gaps(body);
    case 't': return times(body);
    case 'ewma': return ewma(body);
    case 'cusum': return cusum(body);
    case 'group': return group(body);
  }
}

export const chartsMethods: readonly Method[] = [
  computes(chart, (body) => {
    const { panels, notes, ...rest } = draw(body);
    const judged = panels.map((panel) => ({
      statistic: panel.statistic, points: [...panel.points], centre: [...panel.centre], lower: [...panel.lower], upper: [...panel.upper], sigma: [...panel.sigma], out: [...panel.out],
      rules: rulesFor(panel.statistic, body.rules, body.patternsOnSkewed), firings: judgePanel(panel, body.rules, body.patternsOnSkewed, body.changes),
    }));
    const leftOut = judged.some(({ rules }) => body.rules.some((rule) => !rules.includes(rule)));
    const noted: Note[] = leftOut ? [...notes, 'rules-left-out'] : [...notes];
    return { kind: body.kind, panels: judged, notes: noted, ...rest };
  }),
];
