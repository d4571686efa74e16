import type { Correction } from '#contract/inspections';
import { Problem } from '#contract/problem';
import { chartedStatistics } from '#statistics/charts/subgroup';
import { implausible } from '#canmaking/plausibility';
import { type CheckHeader, findCheckHeader, lockChecks } from '../inspections/check-page.store.js';
import { sealsAsStored } from '../inspections/check-seals.store.js';
import { type CheckSubgroup, listCheckSubgroups } from '../inspections/check-subgroups.store.js';
import { streamKey } from '../inspections/place-readings.js';
import { type CorrectionPlan, planCorrection } from '../inspections/plan-correction.js';
import { replaceSubgroups } from '../inspections/revisions.store.js';
import { insertSubgroups } from '../inspections/subgroups.store.js';
import { type Actor, record } from '../platform/audit.js';
import { announce } from '../platform/outbox.js';
import type { Tx } from '../platform/work.js';
import { limitsInForce } from '../specifications/limits-in-force.js';
import { listLimits } from '../specifications/limits.store.js';
import type { Stream } from '../specifications/streams.store.js';
import { judge, loadSeries, updateSignals } from './judge-streams.js';
import { lockOrMakeStreams } from './lock-or-make-streams.js';
import { type Characteristic, loadMasterData, type MasterData } from './master-data.js';

/** Puts one reading of a stored check right: the old row is kept, the subgroup and those behind it are judged again, all or nothing. */
export async function correctReading(tx: Tx, actor: Actor & { userId: number }, checkId: number, correction: Correction, now: Date): Promise<{ notRecomputed: CorrectionPlan['notRecomputed'] }> {
  const { plantId } = actor;
  // 1. The check and the place in it must exist, and the value must be possible (or confirmed by a person).
  const header = await findCheckHeader(tx, plantId, checkId);
  if (!header) throw new Problem('not-found', `There is no check ${checkId}.`);
  if (header.voidedAt) throw new Problem('wrong-state', `Check ${checkId} was taken back with its import: nothing of it is judged any more.`);
  const masterData = await loadMasterData(tx, plantId);
  checkPlace(header, correctable(masterData, correction), correction);

  // 2. Lock every stream that the correction touches and the check itself (somebody may be signing it), then look again: somebody may have been faster.
  const seen = planFor(header, await listCheckSubgroups(tx, plantId, checkId), masterData, correction);
  const streams = await lockOrMakeStreams(tx, plantId, streamsOf(seen).map((member) => ({ characteristicId: member.characteristicId, productId: header.productId, machineId: header.machineId, laneId: seen.target.laneId, unitId: seen.target.unitId })));
  await lockChecks(tx, plantId, [checkId]);
  const { target, group, plan, place } = planFor(header, await listCheckSubgroups(tx, plantId, checkId), masterData, correction);
  const before = target.readings[place] ?? null;
  if (correction.was !== undefined && correction.was !== before) throw new Problem('changed-meanwhile', `The reading is ${before ?? 'missing'} by now, not ${correction.was ?? 'missing'}: look at the check again.`);
  if (before === correction.value) throw new Problem('invalid-input', undefined, [{ field: 'value', expected: `another value than the stored one, ${before ?? 'which is missing'}` }]);
  const streamOf = (characteristicId: number): Stream => {
    const stream = streams.get(streamKey({ characteristicId, productId: header.productId, machineId: header.machineId, laneId: target.laneId, unitId: target.unitId }));
    if (!stream) throw new Problem('changed-meanwhile', 'Another correction of this check was stored at the same moment: send it again.');
    return stream;
  };

  // 3. The seal of what is stored, as it is before anything changes. Old states become revisions; new readings and statistics take their place.
  const sealsBefore = await sealsAsStored(tx, plantId, [checkId]);
  // A check of a monitor stands for its minute; its subgroups have moments of their own.
  const takenAt = new Date(target.takenAt);
  const limits = await listLimits(tx, plantId, [...streams.values()].map((stream) => stream.id));
  const replaced = plan.replaced.map((next) => {
    const old = group.find((member) => member.characteristic === next.characteristic) as CheckSubgroup;
    const reason = next.basisGone ? `${correction.reason} (not computed anew: the factor or plate of the product is not the one of "${old.formula}")` : correction.reason;
    return { ...chartedStatistics(next.readings, header.positions.length, streamOf(old.characteristicId).basis), streamId: old.streamId, takenAt, sequence: old.sequence, readings: next.readings, reason };
  });
  await replaceSubgroups(tx, plantId, replaced, actor.userId, now);
  const stored = await loadSeries(tx, plantId, [...streams.values()], () => ({ from: takenAt, to: takenAt }));
  const added = plan.added.map((next) => {
    const stream = streamOf(next.characteristicId);
    const taken = (stored.get(stream.id) ?? []).filter((point) => point.takenAt.getTime() === takenAt.getTime()).map((point) => point.sequence);
    return { ...chartedStatistics(next.readings, header.positions.length, stream.basis), streamId: stream.id, takenAt, sequence: Math.max(0, ...taken) + 1, checkId, cans: target.cans, readings: next.readings, gaugeId: null, formula: next.formula, limitsId: limitsInForce(limits, stream.id, takenAt, next.formula)?.id ?? null };
  });
  await insertSubgroups(tx, plantId, added);

  // 4. Rules and signals of these points and of those behind them.
  const points = [...replaced, ...added];
  const series = [...streams.values()].flatMap((stream) => {
    const changed = points.find((point) => point.streamId === stream.id);
    if (!changed) return [];
    const all = [...(stored.get(stream.id) ?? []), ...added.filter((point) => point.streamId === stream.id)].sort((a, b) => a.takenAt.getTime() - b.takenAt.getTime() || a.sequence - b.sequence);
    return [{ stream, points: all, judgeFrom: all.findIndex((point) => point.takenAt.getTime() === takenAt.getTime() && point.sequence === changed.sequence) }];
  });
  const signals = await updateSignals(tx, plantId, judge(series, limits), `A reading of check ${checkId} was corrected: ${correction.reason}`);

  // 5. Who did what; what others should hear of.
  const where = { characteristic: correction.characteristic, can: header.canNumbers[correction.can], position: header.positions[correction.position] };
  await record(tx, actor, 'reading.corrected', `check ${checkId}`, {
    before: { ...where, value: before, seals: sealsBefore },
    after: { ...where, value: correction.value, reason: correction.reason, confirmed: correction.confirmed, derived: [...plan.replaced.slice(1), ...plan.added].map((next) => next.characteristic), notRecomputed: plan.notRecomputed, seals: await sealsAsStored(tx, plantId, [checkId]) },
  });
  await announce(tx, plantId, [
    ...series.map(({ stream }) => ({ kind: 'stream.changed', payload: { streamId: stream.id, revision: stream.revision } })),
    ...signals.map((signal) => ({ kind: 'signal.raised', payload: { signalId: signal.id, streamId: signal.streamId } })),
  ]);
  return { notRecomputed: plan.notRecomputed };
}

function correctable({ characteristics }: MasterData, { characteristic }: Correction): Characteristic {
  const known = characteristics.get(characteristic);
  if (!known) throw new Problem('invalid-input', undefined, [{ field: 'characteristic', expected: `a characteristic of this plant, not "${characteristic}"` }]);
  if (known.formula) throw new Problem('invalid-input', undefined, [{ field: 'characteristic', expected: `a measured characteristic: ${known.name} is derived and follows by itself` }]);
  return known;
}

function checkPlace(header: CheckHeader, known: Characteristic, { can, position, value, confirmed }: Correction): void {
  if (can >= header.canNumbers.length) throw new Problem('invalid-input', undefined, [{ field: 'can', expected: `an index from 0 to ${header.canNumbers.length - 1}: the check has ${header.canNumbers.length} cans` }]);
  if (position >= header.positions.length) throw new Problem('invalid-input', undefined, [{ field: 'position', expected: `an index from 0 to ${header.positions.length - 1}: the check has ${header.positions.length} positions` }]);
  if (value === null || confirmed) return;
  const doubt = implausible(value, { low: known.plausibleLow, high: known.plausibleHigh, gaugeStep: null });
  if (!doubt) return;
  const meant = doubt.suggestion === null ? '' : `; ${doubt.suggestion} would be possible: did the decimal slip?`;
  throw new Problem('implausible-reading', 'Correct the entry, or confirm that the reading is as measured.', [{ field: 'value', expected: `${known.name} between ${known.plausibleLow ?? 'any'} and ${known.plausibleHigh ?? 'any'}, not ${value}${meant}` }]);
}

type Planned = { target: CheckSubgroup; group: CheckSubgroup[]; place: number; plan: CorrectionPlan };

function planFor(header: CheckHeader, subgroups: readonly CheckSubgroup[], { derivable, products }: MasterData, correction: Correction): Planned {
  const [target, another] = subgroups.filter((subgroup) => subgroup.characteristic === correction.characteristic && subgroup.cans.includes(correction.can));
  if (another) throw new Problem('wrong-state', `Check ${header.id} gathers what a monitor measured within a minute, several subgroups of "${correction.characteristic}" among it: one of their readings cannot be named, so none is corrected. Say at the signal what was amiss.`);
  const product = products.get(header.productId);
  if (!target || !product) throw new Problem('not-found', `Check ${header.id} has no reading of "${correction.characteristic}" on the unit and lane of can ${header.canNumbers[correction.can]}: log what was measured later as a check of its own.`);
  const group = subgroups.filter((subgroup) => subgroup.unitId === target.unitId && subgroup.laneId === target.laneId && subgroup.takenAt === target.takenAt);
  const place = target.cans.indexOf(correction.can) * header.positions.length + correction.position;
  return { target, group, place, plan: planCorrection(group, correction.characteristic, place, correction.value, derivable, product, product.overlapFactor) };
}

const streamsOf = ({ group, plan }: Planned): { characteristicId: number }[] => [...plan.replaced.map((next) => group.find((member) => member.characteristic === next.characteristic) as CheckSubgroup), ...plan.added];
