import { type AndersonDarling, andersonDarling } from '#statistics/capability/anderson-darling';
import { type Capability, capability } from '#statistics/capability/capability';
import { type FittedCurve, fittedCurve } from '#statistics/capability/fitted-curve';
import { histogram } from '#statistics/capability/histogram';
import { LARGEST_SUBGROUP } from '#statistics/charts/constants';
import { varies } from '#statistics/charts/limits-basis';
import { chartedMembers } from '#statistics/charts/subgroup';
import { mean as meanOf } from '#statistics/numeric/mean';
import { standardDeviation } from '#statistics/numeric/standard-deviation';
import { exactFraction } from '#statistics/sampling/exact-fraction';
import type { CapabilityEntry } from '#contract/studies';
import type { StudySample } from './study-sample.js';

/** What a first study asks for: common practice, no source. */
export const FIRST_STUDY = { subgroups: 25, readings: 100 } as const;
/** The level at which normality is called into question: common practice, no source. */
const NORMAL_LEVEL = 0.05;

export type StudySpecification = { lsl: number | null; target: number | null; usl: number | null };
export type StudyCharacteristic = { unit: string; kind: string; gaugeStep: number };
/** Moments are dates here and ISO text in the answer. */
export type StudyEntry = Omit<CapabilityEntry, 'stability' | 'gauges'> & {
  stability: Omit<CapabilityEntry['stability'], 'signals'> & { signals: StudySample['signals'] };
  gauges: StudySample['gauges'];
};

/** The figures of one sample, or why there are none. Stability is judged from what the chart has said, not computed anew. */
export function studyEntry(sample: StudySample, specification: StudySpecification | null, characteristic: StudyCharacteristic, confidence: number): StudyEntry {
  const members = sample.groups.map(([readings, positions]) => chartedMembers(readings, positions, sample.basis));
  const present = members.flat().filter((member) => member !== null);
  const readings = sample.groups.flatMap(([group]) => group).filter((reading) => reading !== null);
  const subgroups = members.filter((group) => group.some((member) => member !== null)).length;
  const isBounded = characteristic.unit === '%' || characteristic.kind === 'attribute';
  const refusal = refusalOf(sample, specification, members, subgroups, present.length, isBounded);
  const oneSided = specification !== null && (specification.lsl === null || specification.usl === null);
  const method = refusal || !specification ? null : isBounded ? 'fraction' : oneSided ? 'one-sided' : 'two-sided';
  const comparable = refusal?.code !== 'mixed-formulas';
  const index = method === null || method === 'fraction' || !specification ? null : capability({ members, kind: sample.chartKind, ...specification, confidence });
  const mean = comparable && present.length > 0 ? meanOf(present) : null;
  const sd = comparable && present.length > 1 ? standardDeviation(present) : null;
  const isShaped = sd !== null && mean !== null && varies(sd, mean);

  return {
    streamId: sample.streamId, unit: sample.unit, lane: sample.lane, chartKind: sample.chartKind, basis: sample.basis,
    severalPositions: sample.groups.some(([, positions]) => positions > 1),
    method, refusal, n: present.length, subgroups, readings: readings.length,
    mean, sdWithin: index?.sdWithin ?? null, sdOverall: isShaped ? sd : null,
    minimum: comparable ? smallest(readings) : null, maximum: comparable ? largest(readings) : null,
    readingsOutside: comparable ? countOutside(readings, specification) : { below: null, above: null },
    outside: comparable && specification ? unitsOutside(sample, specification, confidence) : null,
    figures: index && figuresOf(index),
    normality: index && isShaped && present.length >= 8 ? normalityOf(andersonDarling(present)) : null,
    histogram: comparable && present.length > 0 ? histogramOf(present, characteristic.gaugeStep, index) : null,
    stability: { state: stateOf(sample), judged: sample.judged, notJudged: sample.points - sample.judged, rules: sample.rules, signals: sample.signals },
    formulas: sample.formulas, gauges: sample.gauges, withoutGauge: sample.withoutGauge, corrected: sample.corrected,
    fewData: subgroups < FIRST_STUDY.subgroups && present.length < FIRST_STUDY.readings,
  };
}

type Refusal = NonNullable<CapabilityEntry['refusal']>;

function refusalOf(sample: StudySample, specification: StudySpecification | null, members: readonly (readonly (number | null)[])[], subgroups: number, n: number, isBounded: boolean): Refusal | null {
  if (sample.formulas.length + (sample.withoutFormula ? 1 : 0) > 1) return { code: 'mixed-formulas', needed: null };
  if (!specification || (specification.lsl === null && specification.usl === null)) return { code: 'no-specification', needed: null };
  if (!sample.sameChart) return { code: 'mixed-charts', needed: null };
  // A share needs one unit; a standard deviation of the process needs more than one moment.
  if (!isBounded && (subgroups < 2 || n < 2)) return { code: 'too-little-data', needed: 2 };
  if (!isBounded && sample.chartKind !== 'i-mr' && members.some((group) => group.length > LARGEST_SUBGROUP)) return { code: 'subgroups-too-large', needed: LARGEST_SUBGROUP };
  return null;
}

/** Stable must be proved: every point judged and no signal. A signal decides even where other points were not judged. */
function stateOf(sample: StudySample): CapabilityEntry['stability']['state'] {
  if (sample.signals.length > 0) return 'not-stable';
  return sample.points > 0 && sample.judged === sample.points ? 'stable' : 'not-judged';
}

const isBelow = (value: number, { lsl }: StudySpecification) => lsl !== null && value < lsl;
const isAbove = (value: number, { usl }: StudySpecification) => usl !== null && value > usl;

function countOutside(readings: readonly number[], specification: StudySpecification | null): { below: number | null; above: number | null } {
  return {
    below: specification?.lsl == null ? null : readings.filter((reading) => isBelow(reading, specification)).length,
    above: specification?.usl == null ? null : readings.filter((reading) => isAbove(reading, specification)).length,
  };
}

/** Where a can is one member, it is one unit: outside when any of its readings is. */
function unitsOutside(sample: StudySample, specification: StudySpecification, confidence: number): CapabilityEntry['outside'] {
  let units = 0;
  let found = 0;
  for (const [readings, positions] of sample.groups) {
    const width = sample.basis === 'can' ? positions : 1;
    for (let first = 0; first < readings.length; first += width) {
      const present = readings.slice(first, first + width).filter((reading) => reading !== null);
      if (present.length === 0) continue;
      units += 1;
      if (present.some((reading) => isBelow(reading, specification) || isAbove(reading, specification))) found += 1;
    }
  }
  return units === 0 || (specification.lsl === null && specification.usl === null) ? null : { found, units, ...exactFraction(found, units, confidence) };
}

function figuresOf(index: Capability): NonNullable<CapabilityEntry['figures']> {
  const { cp, cpk, pp, ppk, cpm, intervals, ppkLowerBound, expectedPpm, withinGap } = index;
  return { cp, cpk, pp, ppk, cpm, intervals, ppkLowerBound, expectedPpm, withinGap };
}

function normalityOf({ n, a2, p, pIsUpperBound }: AndersonDarling): CapabilityEntry['normality'] {
  return { n, a2, p, pIsUpperBound, wording: p < NORMAL_LEVEL ? 'not-normal' : 'may-be-normal' };
}

function histogramOf(members: readonly number[], gaugeStep: number, index: Capability | null): CapabilityEntry['histogram'] {
  const { edges, counts } = histogram(members, gaugeStep > 0 ? gaugeStep : undefined);
  const width = (edges[1] as number) - (edges[0] as number);
  const curve = (sigma: number | null | undefined): FittedCurve | null => (index && sigma ? fittedCurve(index.mean, sigma, members.length, width) : null);
  return { edges, counts, curves: { within: curve(index?.sdWithin), overall: curve(index?.sdOverall) } };
}

const smallest = (values: readonly number[]): number | null => values.reduce<number | null>((low, value) => (low === null || value < low ? value : low), null);
const largest = (values: readonly number[]): number | null => values.reduce<number | null>((high, value) => (high === null || value > high ? value : high), null);
