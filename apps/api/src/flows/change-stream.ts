import { Problem } from '#contract/problem';
import type { InputOf, AnswerOf } from '#contract/endpoint';
import type { changeStream as changeStreamEndpoint } from '#contract/planner';
import { inOrder } from '#statistics/rules/run-rules';
import { type Actor, record } from '../platform/audit.js';
import { announce } from '../platform/outbox.js';
import type { Tx } from '../platform/work.js';
import { countLimits, updateStream } from '../specifications/planning.store.js';
import { lockStreamsById, type Stream } from '../specifications/streams.store.js';

type Change = InputOf<typeof changeStreamEndpoint>['body'];

/**
 * Gives a stream other rules, which judge from the next check on, or another kind of chart while it has no frozen limits:
 * limits are of one kind, and would judge ranges as sds.
 */
export async function changeStream(tx: Tx, actor: Actor, streamId: number, { rules, chartKind, reason }: Change): Promise<AnswerOf<typeof changeStreamEndpoint>> {
  const stream = await lockStream(tx, actor.plantId, streamId);
  const kind = chartKind ?? stream.chartKind;
  if (kind !== stream.chartKind && (await countLimits(tx, actor.plantId, streamId)) > 0) throw new Problem('wrong-state', 'This stream has frozen limits of its present kind of chart, and limits are never changed. Its kind of chart stays as it is.');
  const wanted = inOrder(rules);
  await updateStream(tx, actor.plantId, streamId, { rules: wanted, chartKind: kind });
  await recordStream(tx, actor, stream, { rules: wanted, chartKind: kind }, reason);
  return { id: streamId, rules: wanted, chartKind: kind, judgesFrom: 'next-check', revision: stream.revision };
}

/** One writer a stream; its revision grows. */
export async function lockStream(tx: Tx, plantId: number, streamId: number): Promise<Stream> {
  const [stream] = await lockStreamsById(tx, plantId, [streamId]);
  if (!stream) throw new Problem('not-found', `There is no stream ${streamId}.`);
  return stream;
}

/** Who changed how the stream is judged, and word of it to open pages. */
export async function recordStream(tx: Tx, actor: Actor, { id, revision, rules, chartKind }: Stream, after: { rules: readonly string[]; chartKind: string }, reason: string): Promise<void> {
  await record(tx, actor, 'stream.changed', `stream ${id}`, { before: { rules, chartKind }, after: { ...after, reason } });
  await announce(tx, actor.plantId, [{ kind: 'stream.changed', payload: { streamId: id, revision } }]);
}
