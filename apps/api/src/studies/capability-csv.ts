import { type CsvCell, csvFileName, csvText } from '../platform/csv-cell.js';
import type { Study } from './capability-study.js';
import type { StudyEntry } from './study-entry.js';

export function capabilityFileName({ product, machine, characteristic, period }: Study): string {
  return csvFileName(['capability', product.code, machine.code, characteristic.code, period.from.slice(0, 10), period.to.slice(0, 10)]);
}

/** RFC 4180. Numbers with all their digits and a point, so that the figures can be checked; an empty cell is "undefined". */
export function capabilityCsv(study: Study): string {
  const { plant, product, machine, characteristic, period, specification, confidence, streams, pooled } = study;
  const unit = characteristic.unit;
  const head: CsvCell[][] = [
    ['Plant', plant.name], ['Product', product.code, product.name, product.customer], ['Machine', machine.code, machine.name, `line ${machine.line}`],
    ['Characteristic', characteristic.code, characteristic.name, unit], ['Period from (UTC)', period.from], ['Period to, not included (UTC)', period.to],
    ...specification.revisions.map((entry): CsvCell[] => ['Specification revision', entry.revision, `LSL ${entry.lsl ?? 'none'}`, `target ${entry.target ?? 'none'}`, `USL ${entry.usl ?? 'none'}`, `from ${entry.effectiveFrom.toISOString()}`, entry.id === specification.used?.id ? 'used here' : 'replaced in the period']),
    ['Method', 'Cp and Cpk: sigma within subgroups as the chart estimates it; Pp, Ppk, Cpm: standard deviation of all members (n-1); Cp and Pp intervals: chi-square; Cpk and Ppk intervals: Bissell 1990; share outside: Clopper and Pearson 1934; normality: Anderson-Darling, p after D\'Agostino and Stephens 1986'],
    ['Confidence', confidence], ['Software version', study.softwareVersion], ['Cautions', study.cautions.join(' ')],
    ['Caution', 'An index of a stream that was not stable, or not judged, is for information only. No minimum index is law: check your customer\'s specification. The tool informs; it never releases product.'],
  ];
  const rows = [...streams, ...(pooled ? [pooled] : [])];
  const lines: CsvCell[][] = [...head, [], COLUMNS.map(([name, , isLength]) => (isLength ? `${name} (${unit})` : name)), ...rows.map((entry) => COLUMNS.map(([, pick]) => pick(entry)))];
  return csvText(lines);
}

/** Heading, value, and whether the unit of the characteristic belongs to it. */
const COLUMNS: readonly (readonly [string, (entry: StudyEntry) => CsvCell, isLength?: true])[] = [
  ['Row', (entry) => (entry.streamId === null ? 'pooled' : 'stream')], ['Unit', (entry) => entry.unit?.code ?? null], ['Lane', (entry) => entry.lane?.code ?? null],
  ['Stability', (entry) => entry.stability.state], ['Points judged', (entry) => entry.stability.judged], ['Points not judged', (entry) => entry.stability.notJudged],
  ['Signals', (entry) => entry.stability.signals.length], ['Signal ids', (entry) => entry.stability.signals.map((signal) => `${signal.id} ${signal.state}`).join('; ')],
  ['No figure because', (entry) => entry.refusal?.code ?? null], ['Index', (entry) => entry.method], ['Chart', (entry) => entry.chartKind], ['n counts', (entry) => (entry.basis === 'can' ? 'cans' : 'readings')],
  ['n', (entry) => entry.n], ['Subgroups', (entry) => entry.subgroups], ['Readings', (entry) => entry.readings],
  ['Mean', (entry) => entry.mean, true], ['Sigma within', (entry) => entry.sdWithin, true], ['Standard deviation overall', (entry) => entry.sdOverall, true],
  ['Smallest reading', (entry) => entry.minimum, true], ['Largest reading', (entry) => entry.maximum, true],
  ['Cp', (entry) => entry.figures?.cp ?? null], ['Cp low', (entry) => entry.figures?.intervals.cp?.low ?? null], ['Cp high', (entry) => entry.figures?.intervals.cp?.high ?? null],
  ['Cpk', (entry) => entry.figures?.cpk ?? null], ['Cpk low', (entry) => entry.figures?.intervals.cpk?.low ?? null], ['Cpk high', (entry) => entry.figures?.intervals.cpk?.high ?? null],
  ['Pp', (entry) => entry.figures?.pp ?? null], ['Pp low', (entry) => entry.figures?.intervals.pp?.low ?? null], ['Pp high', (entry) => entry.figures?.intervals.pp?.high ?? null],
  ['Ppk', (entry) => entry.figures?.ppk ?? null], ['Ppk low', (entry) => entry.figures?.intervals.ppk?.low ?? null], ['Ppk high', (entry) => entry.figures?.intervals.ppk?.high ?? null],
  ['Ppk one-sided lower bound', (entry) => entry.figures?.ppkLowerBound ?? null], ['Cpm', (entry) => entry.figures?.cpm ?? null],
  ['Expected ppm below, within', (entry) => entry.figures?.expectedPpm.within.below ?? null], ['Expected ppm above, within', (entry) => entry.figures?.expectedPpm.within.above ?? null],
  ['Expected ppm below, overall', (entry) => entry.figures?.expectedPpm.overall.below ?? null], ['Expected ppm above, overall', (entry) => entry.figures?.expectedPpm.overall.above ?? null],
  ['Readings below', (entry) => entry.readingsOutside.below], ['Readings above', (entry) => entry.readingsOutside.above],
  ['Units outside', (entry) => entry.outside?.found ?? null], ['Units looked at', (entry) => entry.outside?.units ?? null], ['Share outside', (entry) => entry.outside?.fraction ?? null], ['Share outside, one-sided upper bound', (entry) => entry.outside?.upperBound ?? null],
  ['Anderson-Darling A2', (entry) => entry.normality?.a2 ?? null], ['Anderson-Darling p', (entry) => (entry.normality ? `${entry.normality.pIsUpperBound ? 'below ' : ''}${entry.normality.p}` : null)],
  ['Formula', (entry) => entry.formulas.join('; ')], ['Gauges', (entry) => entry.gauges.map((gauge) => gauge.code).join('; ')], ['Subgroups without gauge', (entry) => entry.withoutGauge],
  ['Subgroups after calibration was due', (entry) => entry.gauges.reduce((sum, gauge) => sum + gauge.overdue, 0)], ['Corrected subgroups', (entry) => entry.corrected],
];
