import { Problem } from '#contract/problem';
import type { CapabilityQuery, CapabilityStudy } from '#contract/studies';
import type { Tx } from '../platform/work.js';
import { gaugeStanding } from './gauge-standing.js';
import { specificationOfPeriod } from './specification-of-period.js';
import { listStreamReadings } from './stream-readings.store.js';
import { findSubject, listGaugesUsed, listRevisions, listSignalsTouching, type Revision, type Subject } from './studies.store.js';
import { cautionsOf } from './study-cautions.js';
import { FIRST_STUDY, type StudyEntry, studyEntry } from './study-entry.js';
import { pooledSample, sampleOfStream } from './study-sample.js';

type Found = { [Part in keyof Subject]: NonNullable<Subject[Part]> };
export type Study = Omit<CapabilityStudy, 'streams' | 'pooled' | 'specification'> & {
  streams: StudyEntry[]; pooled: StudyEntry | null; specification: { used: Revision | null; revisions: Revision[] };
};

/**
 * One product on one machine, one characteristic, one period: read once, computed, nothing stored.
 * @param leftOut checks whose readings do not count in the figures; the signals of the chart stand nevertheless
 */
export async function capabilityStudy(tx: Tx, plantId: number, query: CapabilityQuery, softwareVersion: string, leftOut: readonly number[] = []): Promise<Study> {
  const period = { from: new Date(query.from), to: new Date(query.to) };
  const subject = requireSubject(await findSubject(tx, plantId, query), query);
  const { plant, product, machine, characteristic } = subject;
  const readings = await listStreamReadings(tx, plantId, query, period, leftOut);
  if (readings.length === 0) throw tooLittle(subject, 'has no reading in this period');
  const ids = readings.map((stream) => stream.id);
  const [signals, gauges, revisions] = await Promise.all([
    listSignalsTouching(tx, plantId, ids, period), listGaugesUsed(tx, plantId, ids, period), listRevisions(tx, plantId, query, period.to),
  ]);
  const { inForce, used, fromTheStart } = specificationOfPeriod(revisions, period.from);
  const samples = readings.map((stream) => sampleOfStream(stream, signals, gauges));
  const streams = samples.map((sample) => studyEntry(sample, used, characteristic, query.confidence)).sort(worstFirst);
  const together = pooledSample(samples);
  const pooled = together && studyEntry(together, used, characteristic, query.confidence);
  if ([...streams, ...(pooled ? [pooled] : [])].every((entry) => entry.refusal?.code === 'too-little-data')) throw tooLittle(subject, 'has one subgroup in this period');
  const measurement = await measurementOf(tx, plantId, pooled ?? streams[0], characteristic.id, period.to);
  return {
    plant, product, machine, characteristic, period: { from: period.from.toISOString(), to: period.to.toISOString() }, confidence: query.confidence,
    specification: { used, revisions: inForce }, streams, pooled,
    measurement, cautions: cautionsOf({ streams, pooled, used, revisions: inForce, fromTheStart, gaugeStep: characteristic.gaugeStep, measurement }), softwareVersion,
  };
}

/** How each gauge that was used stood at the end of the period; readings that name no gauge stand as one without. */
async function measurementOf(tx: Tx, plantId: number, all: StudyEntry | undefined, characteristicId: number, at: Date): Promise<CapabilityStudy['measurement']> {
  const ids: (number | null)[] = [...(all?.gauges.map(({ id }) => id) ?? []), ...((all?.withoutGauge ?? 0) > 0 ? [null] : [])];
  const found: CapabilityStudy['measurement'] = [];
  for (const gaugeId of ids) {
    const standing = await gaugeStanding(tx, plantId, { gaugeId, characteristicId, at });
    if (standing) found.push(standing);
  }
  return found;
}

function requireSubject(subject: Subject, query: CapabilityQuery): Found {
  const { plant, product, machine, characteristic } = subject;
  for (const [field, value] of [['product', product], ['machine', machine], ['characteristic', characteristic]] as const) {
    if (value === null) throw new Problem('not-found', `There is no ${field} ${query[field]} in this plant.`, [{ field: `query.${field}`, expected: `the id of a ${field} of this plant` }]);
  }
  return { plant, product, machine, characteristic } as Found;
}

function tooLittle({ product, machine, characteristic }: Found, what: string): Problem {
  return new Problem('too-little-data', `${characteristic.name} of ${product.code} on ${machine.code} ${what}. An index needs at least 2 subgroups; a first study asks for ${FIRST_STUDY.subgroups} subgroups or ${FIRST_STUDY.readings} readings (common practice). Choose a longer period.`);
}

/** Lowest Ppk, or highest bound of the share outside; what has no figure comes last, in the order of units. */
function worstFirst(a: StudyEntry, b: StudyEntry): number {
  return badness(b) - badness(a);
}
function badness(entry: StudyEntry): number {
  if (entry.method === 'fraction') return entry.outside ? entry.outside.upperBound : -1e9;
  return entry.figures?.ppk == null ? -1e9 : -entry.figures.ppk;
}
