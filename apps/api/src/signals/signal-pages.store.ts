import { Problem } from '#contract/problem';
import type { InputOf } from '#contract/endpoint';
import { type listSignals, type SignalRow, signalSeen, type SignalState } from '#contract/signals';
import { Prisma } from '../platform/generated/client.js';
import type { Reading } from '../platform/reading.js';
import type { Scope } from '../platform/scope.js';
import type { Tx } from '../platform/work.js';

type Filter = Partial<Omit<InputOf<typeof listSignals>['query'], 'take' | 'before'>> & { ids?: readonly number[]; before?: { firedAt: Date; id: number }; take: number; scope?: Scope | null };
export type SignalRecord = Omit<SignalRow, 'firedAt' | 'firstAt' | 'lastAt' | 'raisedAt' | 'closedAt' | 'seen' | 'ageMinutes'> & { firedAt: Date; firstAt: Date; lastAt: Date; raisedAt: Date; closedAt: Date | null; seen: unknown; total: bigint | number };

/** Signals with the names a person knows them by, newest first. `total` counts all that `which` leaves of signals `g` at machines `m` of steps `p`, charted by `s`; the page are those of `before`. */
const signalRecords = (plantId: number, which: Prisma.Sql, before: Prisma.Sql, take: number): Reading<SignalRecord> => ({ moments: ['firedAt', 'firstAt', 'lastAt', 'raisedAt', 'closedAt'], sql: Prisma.sql`
    WITH found AS (
      SELECT g.*, s.characteristic_id, s.product_id, s.machine_id, s.lane_id, s.unit_id, s.chart_kind, p.line_id, p.kind AS step_kind, m.code AS machine_code, m.name AS machine_name
      FROM signal g JOIN stream s ON s.plant_id = g.plant_id AND s.id = g.stream_id
      JOIN machine m ON m.plant_id = s.plant_id AND m.id = s.machine_id JOIN step p ON p.plant_id = m.plant_id AND p.id = m.step_id
      WHERE g.plant_id = ${plantId} AND ${which}),
    page AS (SELECT *, (SELECT count(*) FROM found) AS total FROM found WHERE ${before} ORDER BY fired_at DESC, id DESC LIMIT ${take})
    SELECT g.id, g.chart, g.rule, g.side, g.state, g.fired_at AS "firedAt", g.first_at AS "firstAt", g.last_at AS "lastAt", g.raised_at AS "raisedAt", g.closed_at AS "closedAt", g.firings, g.cause, g.seen, g.total,
      CASE WHEN w.id IS NULL THEN NULL ELSE jsonb_build_object('id', w.id, 'name', w.name) END AS assignee,
      jsonb_build_object('id', g.stream_id, 'chartKind', g.chart_kind,
        'line', jsonb_build_object('id', l.id, 'code', l.code, 'name', l.name),
        'machine', jsonb_build_object('id', g.machine_id, 'code', g.machine_code, 'name', g.machine_name, 'stepKind', g.step_kind),
        'unit', CASE WHEN u.id IS NULL THEN NULL ELSE jsonb_build_object('id', u.id, 'code', u.code) END,
        'lane', CASE WHEN n.id IS NULL THEN NULL ELSE jsonb_build_object('id', n.id, 'code', n.code) END,
        'product', jsonb_build_object('id', d.id, 'code', d.code, 'name', d.name),
        'characteristic', jsonb_build_object('id', c.id, 'code', c.code, 'name', c.name, 'unit', c.unit, 'decimals', c.decimals)) AS stream,
      ARRAY(SELECT o.id FROM signal o JOIN stream os ON os.plant_id = o.plant_id AND os.id = o.stream_id
        WHERE o.plant_id = g.plant_id AND o.id <> g.id AND o.firings > 0 AND os.machine_id = g.machine_id AND os.characteristic_id = g.characteristic_id AND o.first_at <= g.last_at AND o.last_at >= g.first_at ORDER BY o.id LIMIT 50) AS together
    FROM page g JOIN line l ON l.plant_id = g.plant_id AND l.id = g.line_id JOIN product d ON d.plant_id = g.plant_id AND d.id = g.product_id
    JOIN characteristic c ON c.plant_id = g.plant_id AND c.id = g.characteristic_id
    LEFT JOIN unit u ON u.plant_id = g.plant_id AND u.id = g.unit_id LEFT JOIN lane n ON n.plant_id = g.plant_id AND n.id = g.lane_id LEFT JOIN "user" w ON w.plant_id = g.plant_id AND w.id = g.assigned_to
    ORDER BY g.fired_at DESC, g.id DESC` });

/** The newest signals that are not closed, from the index of these: a plan for any filter would look at all that there ever were. */
export const openSignals = (plantId: number, take: number): Reading<SignalRecord> => signalRecords(plantId, Prisma.sql`g.state <> 'closed'`, Prisma.sql`true`, take);

export const signalsOf = (rows: readonly SignalRecord[], now: Date): { total: number; signals: SignalRow[] } => ({ total: Number(rows[0]?.total ?? 0), signals: rows.map((row) => viewOf(row, now)) });

export async function listSignalRows(tx: Tx, plantId: number, filter: Filter, now: Date): Promise<{ total: number; signals: SignalRow[] }> {
  const state = filter.state ?? 'all';
  const { line = null, machine = null, characteristic = null, assigned = null, stream = null } = filter;
  const [customer, from, until] = [filter.scope?.customer ?? null, filter.scope?.from ?? null, filter.scope?.until ?? null];
  const ids = filter.ids ? [...filter.ids] : null;
  const which = Prisma.sql`(${state} = 'all' OR (${state} = 'not-closed' AND g.state <> 'closed') OR g.state = ${state})
        AND (${line}::int IS NULL OR p.line_id = ${line}) AND (${machine}::int IS NULL OR s.machine_id = ${machine}) AND (${characteristic}::int IS NULL OR s.characteristic_id = ${characteristic})
        AND (${assigned}::int IS NULL OR g.assigned_to = ${assigned}) AND (${stream}::int IS NULL OR g.stream_id = ${stream}) AND (${ids}::int[] IS NULL OR g.id = ANY(${ids}))
        AND (${customer}::text IS NULL OR (g.first_at >= ${from} AND g.last_at < ${until} AND EXISTS (SELECT 1 FROM product own WHERE own.plant_id = s.plant_id AND own.id = s.product_id AND own.customer = ${customer})))`;
  const before = Prisma.sql`${filter.before?.firedAt ?? null}::timestamptz IS NULL OR (fired_at, id) < (${filter.before?.firedAt ?? null}::timestamptz, ${filter.before?.id ?? null}::int)`;
  return signalsOf(await tx.$queryRaw<SignalRecord[]>`/* named: signal-rows */ ${signalRecords(plantId, which, before, filter.take).sql}`, now);
}

export async function findSignalRow(tx: Tx, plantId: number, id: number, now: Date): Promise<SignalRow> {
  const { signals: [row] } = await listSignalRows(tx, plantId, { ids: [id], take: 1 }, now);
  if (!row) throw new Problem('not-found', `There is no signal ${id}.`);
  return row;
}

function viewOf({ total: _total, seen, ...row }: SignalRecord, now: Date): SignalRow {
  // What a signal kept of another version of the program may lack parts: the sentence then goes without numbers.
  const parsed = signalSeen.safeParse(seen);
  const age = Math.max(0, Math.floor(((row.closedAt ?? now).getTime() - row.firedAt.getTime()) / 60_000));
  return {
    ...row, firedAt: row.firedAt.toISOString(), firstAt: row.firstAt.toISOString(), lastAt: row.lastAt.toISOString(), raisedAt: row.raisedAt.toISOString(), closedAt: row.closedAt?.toISOString() ?? null,
    ageMinutes: age, seen: parsed.success ? parsed.data : { limits: null, points: [] },
  };
}

export async function findCursor(tx: Tx, plantId: number, id: number): Promise<{ firedAt: Date; id: number }> {
  const row = await tx.signal.findUnique({ where: { plantId_id: { plantId, id } }, select: { firedAt: true, id: true } });
  if (!row) throw new Problem('not-found', `There is no signal ${id}.`);
  return row;
}

export type LockedSignal = { id: number; state: SignalState; cause: string | null; assignedTo: number | null; closedAt: Date | null };

/** Reads the signal again inside the transaction and keeps others from changing it until the end. */
export async function lockSignal(tx: Tx, plantId: number, id: number): Promise<LockedSignal> {
  const [row] = await tx.$queryRaw<LockedSignal[]>`SELECT id, state, cause, assigned_to AS "assignedTo", closed_at AS "closedAt" FROM signal WHERE plant_id = ${plantId} AND id = ${id} FOR UPDATE`;
  if (!row) throw new Problem('not-found', `There is no signal ${id}.`);
  return row;
}

export async function setSignal(tx: Tx, plantId: number, id: number, { state, cause, assignedTo, closedAt }: Omit<LockedSignal, 'id'>): Promise<void> {
  await tx.$executeRaw`UPDATE signal SET state = ${state}, cause = ${cause}, assigned_to = ${assignedTo}, closed_at = ${closedAt} WHERE plant_id = ${plantId} AND id = ${id}`;
}

export async function insertStep(tx: Tx, actor: { plantId: number; userId: number | null; name: string }, signalId: number, action: string, at: Date, comment: string | null): Promise<void> {
  await tx.$executeRaw`INSERT INTO signal_step (plant_id, signal_id, at, user_id, actor, action, comment) VALUES (${actor.plantId}, ${signalId}, ${at}, ${actor.userId}, ${actor.name}, ${action}, ${comment})`;
}
