import { Problem } from '#contract/problem';
import type { LimitsView, NewLimits } from '#contract/specifications';
import { setLimitsOfSubgroups } from '../inspections/judged-by.store.js';
import { type Actor, record } from '../platform/audit.js';
import { announce } from '../platform/outbox.js';
import type { Tx } from '../platform/work.js';
import { linesBySize } from '../specifications/limits.view.js';
import { insertLimits } from '../specifications/limits.store.js';
import { lockStreamsById } from '../specifications/streams.store.js';
import { judge, updateSignals } from './judge-streams.js';
import { judgedBy, planLimits } from './plan-limits.js';

/** Freezes the limits of a stream from a baseline and judges every subgroup that they are for again, all or nothing. */
export async function freezeLimits(tx: Tx, actor: Actor & { userId: number }, streamId: number, asked: NewLimits, now: Date): Promise<{ limits: LimitsView; judged: number; raised: number }> {
  const { plantId } = actor;
  // 1. One writer a stream: no check may come in between.
  const [stream] = await lockStreamsById(tx, plantId, [streamId]);
  if (!stream) throw new Problem('not-found', `There is no stream ${streamId}.`);

  // 2. Centre, sigma and spread of the baseline; refused when it is too short.
  const plan = await planLimits(tx, plantId, stream, asked);
  const { basis, formula, effectiveFrom, until } = plan;
  const excluded = asked.excluded.map((entry) => ({ ...entry, takenAt: new Date(entry.takenAt).toISOString() }));
  const stored = { ...basis, streamId, formula, baselineFrom: plan.from, baselineTo: plan.to, effectiveFrom, excluded, authorId: actor.userId, reason: asked.reason, createdAt: now };
  const id = await insertLimits(tx, plantId, stored);

  // 3. Which subgroups they judge, and what the rules say of those now.
  const judged = await setLimitsOfSubgroups(tx, plantId, streamId, { limitsId: id, formula, from: effectiveFrom, until });
  const series = judgedBy(plan, id);
  const raised = await updateSignals(tx, plantId, judge([{ stream, ...series }], [...plan.known, { ...basis, id, streamId, effectiveFrom, formula }]), `Judged anew by the limits that ${actor.name} froze: ${asked.reason}`, { keepClosed: true });

  // 4. Who did what; what others should hear of.
  const before = plan.known.findLast((limits) => limits.effectiveFrom <= effectiveFrom) ?? null;
  await record(tx, actor, 'limits.frozen', `stream ${streamId}`, { before, after: { id, ...stored, until, judged, raised: raised.length } });
  await announce(tx, plantId, [
    { kind: 'stream.changed', payload: { streamId, revision: stream.revision } },
    ...raised.map((signal) => ({ kind: 'signal.raised', payload: { signalId: signal.id, streamId } })),
  ]);
  const sizes = series.points.flatMap((point) => (point.limitsId === id && point.n > 0 ? [point.n] : []));
  return {
    judged, raised: raised.length,
    limits: {
      ...basis, id, formula, excluded, author: actor.name, reason: asked.reason, bySize: linesBySize(basis, sizes),
      baselineFrom: plan.from.toISOString(), baselineTo: plan.to.toISOString(), effectiveFrom: effectiveFrom.toISOString(), createdAt: now.toISOString(),
    },
  };
}
