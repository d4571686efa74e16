import { sealsAsStored } from '../inspections/check-seals.store.js';
import { listImportedSpans, lockImportedChecks, voidImportedChecks } from '../inspections/undo.store.js';
import { type Actor, record } from '../platform/audit.js';
import { announce } from '../platform/outbox.js';
import type { Tx } from '../platform/work.js';
import { listLimits } from '../specifications/limits.store.js';
import { lockStreamsById } from '../specifications/streams.store.js';
import { judge, loadSeries, updateSignals, withdrawWithin } from './judge-streams.js';

/** Takes back everything that an import stored, as one act: values stay readable as replaced ones, and what is left is judged as if the rows had never come. */
export async function undoImport(tx: Tx, actor: Actor & { userId: number }, importId: number, reason: string, at: Date): Promise<void> {
  const { plantId } = actor;
  const spans = new Map((await listImportedSpans(tx, plantId, importId)).map((span) => [span.stream_id, span]));
  const streams = await lockStreamsById(tx, plantId, [...spans.keys()]);
  const why = `Import ${importId} was undone: ${reason}`;
  // Nothing is compared of a check that was taken back: what it was until then is told by the act.
  const seals = await sealsAsStored(tx, plantId, await lockImportedChecks(tx, plantId, importId));
  const checks = await voidImportedChecks(tx, plantId, importId, { userId: actor.userId, reason: why, at });
  const limits = await listLimits(tx, plantId, streams.map((stream) => stream.id));
  const points = await loadSeries(tx, plantId, streams, (stream) => ({ from: spans.get(stream.id)?.first ?? at, to: spans.get(stream.id)?.last ?? at }));
  // Firings on points that are gone first; then the points that are left and could see them.
  await withdrawWithin(tx, plantId, streams.map((stream) => ({ streamId: stream.id, from: spans.get(stream.id)?.first ?? at, to: spans.get(stream.id)?.last ?? at, kept: points.get(stream.id) ?? [] })), why);
  const series = streams.flatMap((stream) => {
    const left = points.get(stream.id) ?? [];
    const first = spans.get(stream.id)?.first.getTime() ?? 0;
    const judgeFrom = left.findIndex((point) => point.takenAt.getTime() >= first);
    return judgeFrom < 0 ? [] : [{ stream, points: left, judgeFrom }];
  });
  const signals = await updateSignals(tx, plantId, judge(series, limits), why);
  await record(tx, actor, 'import.undone', `import ${importId}`, { before: { seals }, after: { checks, streams: streams.length, reason } });
  await announce(tx, plantId, [
    ...streams.map((stream) => ({ kind: 'stream.changed', payload: { streamId: stream.id, revision: stream.revision } })),
    ...signals.map((signal) => ({ kind: 'signal.raised', payload: { signalId: signal.id, streamId: signal.streamId } })),
  ]);
}
