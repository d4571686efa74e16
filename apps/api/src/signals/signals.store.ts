import type { Tx } from '../platform/work.js';
import type { OpenSignal, PlannedPoint, SignalPlan } from './plan-signals.js';

export type StreamPlan = { streamId: number; plan: SignalPlan };

/** Signals of the streams that are not closed. */
export async function listOpenSignals(tx: Tx, plantId: number, streamIds: readonly number[]): Promise<(OpenSignal & { streamId: number })[]> {
  const rows = await tx.$queryRaw<{ id: number; stream_id: number; chart: string; rule: string; side: string; fired_at: Date; last_at: Date }[]>`
    SELECT id, stream_id, chart, rule, side, fired_at, last_at FROM signal WHERE plant_id = ${plantId} AND stream_id = ANY(${[...streamIds]}::int[]) AND state <> 'closed' ORDER BY id`;
  return rows.map((row) => ({ id: row.id, streamId: row.stream_id, chart: row.chart, rule: row.rule, side: row.side, firedAt: row.fired_at, lastAt: row.last_at }));
}

/** Firings that are already on record for the streams from a moment on. */
export async function listSignalPoints(tx: Tx, plantId: number, spans: readonly { streamId: number; from: Date; to: Date }[]): Promise<(PlannedPoint & { streamId: number; signalId: number; closed: boolean })[]> {
  const rows = await tx.$queryRaw<{ stream_id: number; taken_at: Date; sequence: number; chart: string; rule: string; side: string; signal_id: number; closed: boolean }[]>`
    /* named: signal-points */ SELECT p.stream_id, p.taken_at, p.sequence, p.chart, p.rule, p.side, p.signal_id, sg.state = 'closed' AS closed
    FROM unnest(${spans.map((span) => span.streamId)}::int[], ${spans.map((span) => span.from.toISOString())}::timestamptz[], ${spans.map((span) => span.to.toISOString())}::timestamptz[]) AS s(stream_id, from_at, to_at)
    JOIN signal_point p ON p.plant_id = ${plantId} AND p.stream_id = s.stream_id AND p.taken_at BETWEEN s.from_at AND s.to_at
    JOIN signal sg ON sg.plant_id = p.plant_id AND sg.id = p.signal_id`;
  return rows.map((row) => ({ streamId: row.stream_id, takenAt: row.taken_at, sequence: row.sequence, chart: row.chart, rule: row.rule, side: row.side, signalId: row.signal_id, closed: row.closed }));
}

/** Stores what was planned; answers the ids of the raised signals, in the order of the plans. A replay changes nothing: each (rule, side, point) is there once. */
export async function insertSignals(tx: Tx, plantId: number, plans: readonly StreamPlan[]): Promise<{ id: number; streamId: number }[]> {
  const raised = plans.flatMap(({ streamId, plan }) => plan.raised.map((signal) => ({ streamId, signal })));
  const grown = plans.flatMap(({ plan }) => plan.grown);
  const ids: { id: number; streamId: number }[] = raised.length === 0 ? [] : await tx.$queryRaw<{ id: number; streamId: number }[]>`
    WITH given AS (SELECT s, place FROM jsonb_array_elements(${JSON.stringify(raised.map(({ streamId, signal }) => ({ ...signal, streamId, firings: signal.points.length, points: undefined })))}::jsonb) WITH ORDINALITY AS l(s, place) ORDER BY place)
    INSERT INTO signal (plant_id, stream_id, chart, rule, side, fired_at, first_at, last_good_at, last_at, firings, seen)
    SELECT ${plantId}, (s->>'streamId')::int, s->>'chart', s->>'rule', s->>'side', (s->>'firedAt')::timestamptz, (s->>'firstAt')::timestamptz, (s->>'lastGoodAt')::timestamptz, (s->>'lastAt')::timestamptz, (s->>'firings')::int, s->'seen'
    FROM given ORDER BY place RETURNING id, stream_id AS "streamId"`;
  const points = [
    ...raised.flatMap(({ streamId, signal }, place) => signal.points.map((point) => ({ ...point, streamId, signalId: ids[place]?.id }))),
    ...plans.flatMap(({ streamId, plan }) => plan.grown.flatMap((signal) => signal.points.map((point) => ({ ...point, streamId, signalId: signal.id })))),
  ];
  if (points.length > 0) {
    await tx.$executeRaw`
      INSERT INTO signal_point (plant_id, stream_id, taken_at, sequence, chart, rule, side, signal_id)
      SELECT ${plantId}, p."streamId", p."takenAt", p.sequence, p.chart, p.rule, p.side, p."signalId"
      FROM jsonb_to_recordset(${JSON.stringify(points)}::jsonb) AS p("streamId" int, "takenAt" timestamptz, sequence int, chart text, rule text, side text, "signalId" int)
      ON CONFLICT DO NOTHING`;
  }
  if (ids.length > 0) {
    await tx.$executeRaw`
      INSERT INTO signal_step (plant_id, signal_id, actor, action) SELECT ${plantId}, id, 'rules', 'raised' FROM unnest(${ids.map((row) => row.id)}::int[]) AS id`;
  }
  if (grown.length > 0) {
    await tx.$executeRaw`
      UPDATE signal s SET last_at = greatest(s.last_at, g."lastAt"), firings = (SELECT count(*) FROM signal_point p WHERE p.plant_id = s.plant_id AND p.signal_id = s.id)
      FROM jsonb_to_recordset(${JSON.stringify(grown.map(({ id, lastAt }) => ({ id, lastAt })))}::jsonb) AS g(id int, "lastAt" timestamptz)
      WHERE s.plant_id = ${plantId} AND s.id = g.id`;
  }
  return ids;
}

/** Takes back firings that a corrected or late reading has undone; a signal that keeps none is closed with that said. */
export async function withdrawPoints(tx: Tx, plantId: number, points: readonly (PlannedPoint & { streamId: number; signalId: number })[], why: string): Promise<void> {
  if (points.length === 0) return;
  await tx.$executeRaw`
    DELETE FROM signal_point p USING jsonb_to_recordset(${JSON.stringify(points)}::jsonb) AS g("streamId" int, "takenAt" timestamptz, sequence int, chart text, rule text, side text)
    WHERE p.plant_id = ${plantId} AND p.stream_id = g."streamId" AND p.taken_at = g."takenAt" AND p.sequence = g.sequence AND p.chart = g.chart AND p.rule = g.rule AND p.side = g.side`;
  await tx.$executeRaw`
    WITH kept AS (
      SELECT s.id, count(p.signal_id)::int AS firings, max(p.taken_at) AS last_at FROM signal s LEFT JOIN signal_point p ON p.plant_id = s.plant_id AND p.signal_id = s.id
      WHERE s.plant_id = ${plantId} AND s.id = ANY(${[...new Set(points.map((point) => point.signalId))]}::int[]) GROUP BY s.id),
    changed AS (
      UPDATE signal s SET firings = kept.firings, last_at = coalesce(kept.last_at, s.last_at),
        state = CASE WHEN kept.firings = 0 THEN 'closed' ELSE s.state END, closed_at = CASE WHEN kept.firings = 0 THEN coalesce(s.closed_at, now()) ELSE s.closed_at END
      FROM kept WHERE s.plant_id = ${plantId} AND s.id = kept.id RETURNING s.id, s.firings)
    INSERT INTO signal_step (plant_id, signal_id, actor, action, comment)
    SELECT ${plantId}, id, 'rules', CASE WHEN firings = 0 THEN 'withdrawn' ELSE 'shortened' END, ${why} FROM changed`;
}
