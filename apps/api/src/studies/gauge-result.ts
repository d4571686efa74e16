import { gaugeAverageRange } from '#statistics/gauges/average-range';
import { biasLinearity } from '#statistics/gauges/bias-linearity';
import { gaugeCrossed } from '#statistics/gauges/crossed';
import { gaugeNested } from '#statistics/gauges/nested';
import type { Variation } from '#statistics/gauges/variation';
import type { GaugeVerdict } from '#contract/gauge-standing';
import type { GaugePlan, GaugeResult, StudyThresholds } from '#contract/gauge-studies';
import { ratedResult } from './rated-result.js';
import type { TakenTrial } from './trial-order.js';

type Given = { plan: GaugePlan; trials: readonly TakenTrial[]; thresholds: StudyThresholds; calibration: GaugeResult['calibration']; retakes: number };
type Caution = GaugeResult['cautions'][number];

/** Below these a study says little: common practice, no source. */
const FEW = { parts: 10, people: 3, masters: 5 } as const;
const RANK: readonly GaugeVerdict[] = ['acceptable', 'conditional', 'not-acceptable'];

/** @throws RangeError of the method where the readings cannot be computed */
export function gaugeResultOf({ plan, trials, thresholds, calibration, retakes }: Given): GaugeResult {
  const measured = plan.design === 'agreement' || plan.design === 'bias' ? null : measuredResult(plan, trials);
  const bias = plan.design === 'bias' ? biasResult(plan, trials) : null;
  const rated = plan.design === 'agreement' ? ratedResult(plan, trials) : null;
  const judged = judge(measured, rated, thresholds);
  const cautions: (readonly [Caution, boolean])[] = [
    ['destructive', plan.design === 'nested'], ['out-of-calibration', calibration === 'overdue' || calibration === 'failed'], ['calibration-not-known', calibration === 'not-known'],
    ['bias-only', bias !== null], ['bias-at-master', bias?.unbiased === true && bias.masters.some(isOffByItself)], ['few-masters', bias !== null && plan.parts.length < FEW.masters], ['few-parts', bias === null && plan.parts.length < FEW.parts], ['few-people', plan.design !== 'bias' && plan.people.length < FEW.people], ['no-tolerance', measured !== null && plan.tolerance === null],
    ['no-standard', rated !== null && plan.standard === null], ['parts-alike', measured !== null && measured.categories !== null && measured.categories < 2], ['interaction', measured?.interaction === 'kept'],
    ['coarse', measured !== null && (measured.rows.find(({ source }) => source === 'repeatability')?.sd ?? 0) < plan.gaugeStep / 3], ['retaken', retakes > 0],
  ];
  return {
    thresholds, tolerance: plan.tolerance, judged, verdict: judged.length === 0 ? null : RANK[Math.max(...judged.map(({ verdict }) => RANK.indexOf(verdict)))] ?? null,
    measured, bias, rated, readings: readingsOf(plan, trials), calibration, cautions: cautions.flatMap(([caution, holds]) => (holds ? [caution] : [])),
  };
}

/** All readings of a master count together, whoever took them. No verdict: thresholds of the plant are for scatter, and a bias is corrected or judged by a person. */
function biasResult(plan: GaugePlan, trials: readonly TakenTrial[]): NonNullable<GaugeResult['bias']> {
  const masters = plan.parts.map((_label, part) => ({ reference: plan.references?.[part] ?? Number.NaN, values: trials.filter((trial) => trial.part === part).map(({ value }) => value) }));
  const { masters: found, averageBias, line } = biasLinearity(masters, null, plan.confidence);
  return {
    masters: found.map(({ test, low, high, ...master }, part) => ({ part: plan.parts[part] ?? '', ...master, low: test?.low ?? null, high: test?.high ?? null, bandLow: low, bandHigh: high })),
    averageBias, slope: line.slope.estimate, slopeLow: line.slope.low, slopeHigh: line.slope.high, slopeP: line.slope.p, intercept: line.intercept.estimate, rSquared: line.rSquared, unbiased: found.every(({ zeroInside }) => zeroInside),
  };
}

/** Its own readings leave no bias out: where the band of the line holds it all the same, other masters scatter. */
const isOffByItself = ({ low, high }: NonNullable<GaugeResult['bias']>['masters'][number]): boolean => low !== null && high !== null && (low > 0 || high < 0);

/** The worst figure decides. Too few categories make a gauge conditional, not more: the parts may be too much alike. */
function judge(measured: GaugeResult['measured'], rated: GaugeResult['rated'], thresholds: StudyThresholds): GaugeResult['judged'] {
  const byShare = (value: number): GaugeVerdict => (value < thresholds.gaugeAccept ? 'acceptable' : value <= thresholds.gaugeReject ? 'conditional' : 'not-acceptable');
  const gauge = measured?.rows.find(({ source }) => source === 'gauge');
  const judged: GaugeResult['judged'] = [];
  if (gauge?.ofTolerance != null) judged.push({ figure: 'of-tolerance', value: gauge.ofTolerance, verdict: byShare(gauge.ofTolerance) });
  if (gauge?.ofStudy != null) judged.push({ figure: 'of-study', value: gauge.ofStudy, verdict: byShare(gauge.ofStudy) });
  if (measured?.categories != null) judged.push({ figure: 'categories', value: measured.categories, verdict: measured.categories >= thresholds.categories ? 'acceptable' : 'conditional' });
  if (rated?.lowestKappa != null) judged.push({ figure: 'kappa', value: rated.lowestKappa, verdict: rated.lowestKappa >= thresholds.kappaAccept ? 'acceptable' : rated.lowestKappa >= thresholds.kappaReject ? 'conditional' : 'not-acceptable' });
  return judged;
}

/** Person, part, values in the order of repeats; people and parts in the order of the plan. */
export function readingsOf(plan: GaugePlan, trials: readonly TakenTrial[]): GaugeResult['readings'] {
  const cells = new Map<string, TakenTrial[]>();
  for (const trial of trials) cells.set(`${trial.person} ${trial.part}`, [...(cells.get(`${trial.person} ${trial.part}`) ?? []), trial]);
  return plan.people.flatMap((_name, person) => plan.parts.flatMap((_label, part) => {
    const cell = cells.get(`${person} ${part}`);
    return cell ? [{ person, part, values: cell.sort((a, b) => a.repeat - b.repeat).map(({ value }) => value) }] : [];
  }));
}

function measuredResult(plan: GaugePlan, trials: readonly TakenTrial[]): NonNullable<GaugeResult['measured']> {
  const options = { tolerance: plan.tolerance, confidence: plan.confidence };
  const readings = readingsOf(plan, trials);
  const row = (source: GaugeResultRow['source'], { sd, interval, ofVariance, ofStudy, ofTolerance, ofToleranceInterval }: Variation): GaugeResultRow => ({ source, sd, interval, ofVariance, ofStudy, ofTolerance, ofToleranceInterval });
  if (plan.design === 'nested') {
    const result = gaugeNested(plan.people.map((_name, person) => readings.filter((cell) => cell.person === person).map(({ values }) => values)), options);
    return {
      rows: [row('gauge', result.gauge), row('repeatability', result.repeatability), row('appraiser', result.appraiser), row('part', result.part), row('total', result.total)],
      ofStudyInterval: result.gaugeOfStudyInterval, categories: result.distinctCategories, categoriesInterval: result.distinctCategoriesInterval, interaction: null, pInteraction: null, byRanges: null,
    };
  }
  const table = plan.parts.map((_label, part) => readings.filter((cell) => cell.part === part).map(({ values }) => values));
  const [result, ranges] = [gaugeCrossed(table, options), gaugeAverageRange(table, options)];
  return {
    rows: [row('gauge', result.gauge), row('repeatability', result.repeatability), row('reproducibility', result.reproducibility), row('appraiser', result.appraiser), ...(result.appraiserByPart ? [row('interaction', result.appraiserByPart)] : []), row('part', result.part), row('total', result.total)],
    ofStudyInterval: result.gaugeOfStudyInterval, categories: result.distinctCategories, categoriesInterval: result.distinctCategoriesInterval, interaction: result.interaction, pInteraction: result.tests.interaction?.p ?? null,
    byRanges: { gaugeSd: ranges.gauge.sd, ofStudy: ranges.gauge.ofStudy, ofTolerance: ranges.gauge.ofTolerance },
  };
}
type GaugeResultRow = NonNullable<GaugeResult['measured']>['rows'][number];
