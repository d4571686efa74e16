import { chartedMembers, subgroupStatistics } from '#statistics/charts/subgroup';
import { LARGEST_SUBGROUP } from '#statistics/charts/constants';
import { estimateBaseline } from '#statistics/charts/estimate-baseline';
import { limitsForSize } from '#statistics/charts/limits';
import { varies } from '#statistics/charts/limits-basis';
import { canonicalJson } from '../../packs/canonical.js';
import type { PackEntry, PackInputs, PackResult, PackResults, PackScope, PackStream, PackSubject, PeriodChart } from '../../packs/pack-content.js';
import { specificationOfPeriod } from '../../studies/specification-of-period.js';
import { type StudyEntry, studyEntry } from '../../studies/study-entry.js';
import { pooledSample, type StudySample } from '../../studies/study-sample.js';
import { allMethods } from '../../workbench/all-methods.js';
import { findingsOf } from './findings.js';
import { outOfCalibration } from './out-of-calibration.js';

/** The figures of one subject from its frozen readings, the same functions that the capability screen uses. */
export function computeSubject(subject: PackSubject, around: Pick<PackInputs, 'signals' | 'gauges'>, scope: PackScope): PackResult {
  const { product, machine, characteristic, streams } = subject;
  const revisions = subject.revisions.map((revision) => ({ ...revision, effectiveFrom: new Date(revision.effectiveFrom) }));
  const { inForce, used } = specificationOfPeriod(revisions, new Date(scope.from));
  const samples = streams.map((stream) => sampleOf(stream, around));
  const entry = (sample: StudySample) => asText(studyEntry(sample, used, characteristic, scope.confidence));
  const together = pooledSample(samples);
  return {
    productId: product.id, machineId: machine.id, characteristicId: characteristic.id,
    used: subject.revisions.find(({ id }) => id === used?.id) ?? null, inForce: inForce.map(({ id }) => id),
    streams: streams.map((stream, index) => ({ entry: entry(samples[index] as StudySample), chart: chartOf(stream) })),
    pooled: together && entry(together),
  };
}

/** Moments are text in the file. */
const asText = (entry: StudyEntry): PackEntry => JSON.parse(canonicalJson(entry)) as PackEntry;

function sampleOf(stream: PackStream, { signals, gauges }: Pick<PackInputs, 'signals' | 'gauges'>): StudySample {
  const { id, subgroups } = stream;
  const used = new Map<number, { subgroups: number; overdue: number }>();
  const known = new Map(gauges.map((gauge) => [gauge.id, gauge]));
  for (const [, takenAt, , , , gaugeId] of subgroups) {
    if (gaugeId === null) continue;
    const gauge = known.get(gaugeId);
    const use = used.get(gaugeId) ?? { subgroups: 0, overdue: 0 };
    used.set(gaugeId, { subgroups: use.subgroups + 1, overdue: use.overdue + (gauge && outOfCalibration(gauge, takenAt) ? 1 : 0) });
  }
  const formulas = new Set(subgroups.flatMap((group) => group[6] ?? []));
  return {
    streamId: id, unit: stream.unit, lane: stream.lane, chartKind: stream.chartKind, basis: stream.basis, rules: stream.rules, points: subgroups.length, sameChart: true,
    judged: subgroups.filter((group) => group[7] !== null).length, corrected: subgroups.filter((group) => group[8] > 1).length, withoutGauge: subgroups.filter((group) => group[5] === null).length,
    formulas: [...formulas].sort(), withoutFormula: subgroups.some((group) => group[6] === null), groups: subgroups.map((group) => [group[4], group[3]]),
    signals: signals.filter((signal) => signal.streamId === id).map(({ steps: _steps, firedAt, firstAt, lastAt, ...signal }) => ({ ...signal, firedAt: new Date(firedAt), firstAt: new Date(firstAt), lastAt: new Date(lastAt) })),
    gauges: [...used].sort(([a], [b]) => a - b).flatMap(([gaugeId, use]) => {
      const gauge = known.get(gaugeId);
      if (!gauge) return [];
      const { calibrations: _all, calibrationDue, ...facts } = gauge;
      return [{ ...facts, calibrationDue: calibrationDue === null ? null : new Date(calibrationDue), ...use }];
    }),
  };
}

/** Centre lines and limits of the period for the commonest size of a subgroup; null where the readings give none. */
function chartOf({ chartKind, basis, subgroups }: PackStream): PeriodChart | null {
  const statistics = subgroups.map((group) => subgroupStatistics(chartedMembers(group[4], group[3], basis)));
  const sizes = new Map<number, number>();
  for (const { n } of statistics) if (n > 0) sizes.set(n, (sizes.get(n) ?? 0) + 1);
  const [n] = [...sizes].sort(([a, countA], [b, countB]) => countB - countA || b - a)[0] ?? [0];
  // Formulas are not comparable with each other: no centre over both.
  if (new Set(subgroups.map((group) => group[6])).size > 1 || n === 0 || (chartKind !== 'i-mr' && Math.max(...sizes.keys()) > LARGEST_SUBGROUP)) return null;
  try {
    const basisOfPeriod = estimateBaseline(chartKind, statistics);
    if (!varies(basisOfPeriod.sigma, basisOfPeriod.centre)) return null;
    const { centre, sigma, spreadCentre } = basisOfPeriod;
    const { mean, spread } = limitsForSize(basisOfPeriod, n);
    return { centre, sigma, spreadCentre, subgroups: basisOfPeriod.subgroups, n, mean: { centre: mean.centre, lower: mean.lower, upper: mean.upper }, spread };
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}

/** Everything that a pack says, from what it froze. The same inputs give the same results, digit for digit. */
export async function computePack(inputs: PackInputs, scope: PackScope, progress: (done: number) => Promise<void> = async () => {}): Promise<PackResults> {
  const subjects: PackResult[] = [];
  for (const subject of inputs.subjects) {
    subjects.push(computeSubject(subject, inputs, scope));
    await progress(subjects.length);
  }
  const studies = inputs.studies.map(({ id, answers }) => ({ id, answers: answers.map(({ method, body }) => ({ method, answer: answerOf(method, body) })) }));
  const results = { subjects, studies, findings: [] };
  return JSON.parse(canonicalJson({ ...results, findings: findingsOf(inputs, scope, results) })) as PackResults;
}

/** A method that this version does not have, or that refuses, answers why in words. */
function answerOf(name: string, body: unknown): unknown {
  const method = allMethods.find(({ endpoint }) => endpoint.path === `/api/workbench/${name}`);
  if (!method) return { notComputed: `this version has no method ${name}` };
  try {
    return method.compute(body, () => {});
  } catch (error) {
    if (error instanceof RangeError) return { notComputed: error.message };
    throw error;
  }
}
