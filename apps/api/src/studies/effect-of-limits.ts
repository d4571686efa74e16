import { Problem } from '#contract/problem';
import type { Tx } from '../platform/work.js';
import { specificationOfPeriod } from './specification-of-period.js';
import { listStreamReadings } from './stream-readings.store.js';
import { findSubject, listMachinesWith, listRevisions, listSignalsTouching, type Revision } from './studies.store.js';
import { type StudyEntry, type StudySpecification, studyEntry } from './study-entry.js';
import { sampleOfStream } from './study-sample.js';

export type UnderLimits = { cp: number | null; cpk: number | null; pp: number | null; ppk: number | null; ppkLowerBound: number | null; shareBelow: number | null; shareAbove: number | null; expectedPpm: { below: number | null; above: number | null } | null; refusal: StudyEntry['refusal'] };
export type EffectOfLimits = {
  before: Revision | null; unit: string; decimals: number;
  streams: { streamId: number; machine: string; machineUnit: string | null; lane: string | null; readings: number; stability: StudyEntry['stability']['state']; before: UnderLimits; after: UnderLimits }[];
};

const CONFIDENCE = 0.95;

/** The same readings of a period, read once, under the limits in force at its end and under other ones. The capability study's own figures. */
export async function effectOfLimits(tx: Tx, plantId: number, of: { product: number; characteristic: number }, period: { from: Date; to: Date }, after: StudySpecification): Promise<EffectOfLimits> {
  const machines = await listMachinesWith(tx, plantId, of, period);
  const subject = await findSubject(tx, plantId, { ...of, machine: machines[0]?.id ?? 0 });
  const { product, characteristic } = subject;
  if (!product) throw new Problem('not-found', `There is no product ${of.product}.`, [{ field: 'productId', expected: 'the id of a product of this plant' }]);
  if (!characteristic) throw new Problem('not-found', `There is no characteristic ${of.characteristic}.`, [{ field: 'characteristicId', expected: 'the id of a characteristic of this plant' }]);
  const { used } = specificationOfPeriod(await listRevisions(tx, plantId, of, period.to), period.from);
  const streams: EffectOfLimits['streams'] = [];
  for (const machine of machines) {
    const readings = await listStreamReadings(tx, plantId, { ...of, machine: machine.id }, period);
    const ids = readings.map((stream) => stream.id);
    const signals = await listSignalsTouching(tx, plantId, ids, period);
    for (const stream of readings) {
      // The gauges enter no figure.
      const sample = sampleOfStream(stream, signals, []);
      const [old, next] = [studyEntry(sample, used, characteristic, CONFIDENCE), studyEntry(sample, after, characteristic, CONFIDENCE)];
      streams.push({ streamId: stream.id, machine: machine.code, machineUnit: stream.unit?.code ?? null, lane: stream.lane?.code ?? null, readings: old.readings, stability: old.stability.state, before: figuresOf(old), after: figuresOf(next) });
    }
  }
  return { before: used, unit: characteristic.unit, decimals: characteristic.decimals, streams };
}

function figuresOf({ figures, readings, readingsOutside: { below, above }, refusal }: StudyEntry): UnderLimits {
  const share = (count: number | null) => (count === null || readings === 0 ? null : count / readings);
  const { cp = null, cpk = null, pp = null, ppk = null, ppkLowerBound = null, expectedPpm = null } = figures ?? {};
  return { cp, cpk, pp, ppk, ppkLowerBound, shareBelow: share(below), shareAbove: share(above), expectedPpm: expectedPpm?.overall ?? null, refusal };
}
