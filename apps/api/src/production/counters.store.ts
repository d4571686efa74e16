import type { MachineReading } from '#canmaking/line/counter-spans';
import type { CounterDecision, CounterDecisionKind, MachineCounter } from '#contract/counters';
import type { Tx } from '../platform/work.js';

export type CounterOf = { machineId: number; rollsOverAt: number | null; mostPerMinute: number | null };
export type StoredReading = MachineReading & { machineId: number };
export type NewDecision = { machineId: number | null; kind: CounterDecisionKind; counter: 'good' | 'rejected' | null; at: string | null; until: string | null; cans: number | null; least: number | null; detail: string };

/** One batch of a plant at a time, shared with counts that are entered: neither may slip a span past the other. */
export async function lockCounts(tx: Tx, plantId: number): Promise<void> {
  await tx.$executeRaw`SELECT pg_advisory_xact_lock(hashtext('production_count'), ${plantId}::int)`;
}

/** Machines of the plant among `ids` with what is stated about their counters. */
export async function findCountersOf(tx: Tx, plantId: number, ids: readonly number[]): Promise<Map<number, CounterOf>> {
  const rows = await tx.$queryRaw<CounterOf[]>`
    SELECT m.id AS "machineId", c.rolls_over_at AS "rollsOverAt", c.most_per_minute AS "mostPerMinute" FROM machine m
    LEFT JOIN counter_setting c ON c.plant_id = m.plant_id AND c.machine_id = m.id WHERE m.plant_id = ${plantId} AND m.id = ANY(${[...new Set(ids)]}::int[])`;
  return new Map(rows.map((row) => [row.machineId, row]));
}

type At = { machineId: number; at: string };
/** Readings that are stored for exactly these machines and moments. */
export async function findReadingsAt(tx: Tx, plantId: number, wanted: readonly At[]): Promise<StoredReading[]> {
  const rows = await tx.$queryRaw<(Omit<StoredReading, 'at'> & { at: Date })[]>`
    SELECT r.machine_id AS "machineId", r.at, r.good, r.rejected FROM (SELECT DISTINCT "machineId", at FROM jsonb_to_recordset(${JSON.stringify(wanted)}::jsonb) AS g("machineId" int, at timestamptz)) g
    JOIN counter_reading r ON r.plant_id = ${plantId} AND r.machine_id = g."machineId" AND r.at = g.at`;
  return rows.map((row) => ({ ...row, at: row.at.getTime() }));
}

/** The newest moment that is stored of each machine. */
export async function findLastReadings(tx: Tx, plantId: number, ids: readonly number[]): Promise<Map<number, number>> {
  const rows = await tx.$queryRaw<{ machineId: number; at: Date }[]>`
    SELECT m.id AS "machineId", last.at FROM unnest(${[...new Set(ids)]}::int[]) AS m(id)
    CROSS JOIN LATERAL (SELECT at FROM counter_reading r WHERE r.plant_id = ${plantId} AND r.machine_id = m.id ORDER BY at DESC LIMIT 1) last`;
  return new Map(rows.map(({ machineId, at }) => [machineId, at.getTime()]));
}

export async function insertReadings(tx: Tx, plantId: number, readings: readonly (At & { good: number; rejected: number | null })[], now: Date, actor: string): Promise<void> {
  await tx.$executeRaw`
    INSERT INTO counter_reading (plant_id, machine_id, at, good, rejected, received_at, actor)
    SELECT ${plantId}, g."machineId", g.at, g.good, g.rejected, ${now}, ${actor} FROM jsonb_to_recordset(${JSON.stringify(readings)}::jsonb) AS g("machineId" int, at timestamptz, good float8, rejected float8)`;
}

/** Readings of a machine from the last one before the span to the first one after it, in order of time. */
export async function listReadingsRound(tx: Tx, plantId: number, machineId: number, from: Date, until: Date): Promise<MachineReading[]> {
  const rows = await tx.$queryRaw<{ at: Date; good: number; rejected: number | null }[]>`
    SELECT at, good, rejected FROM counter_reading WHERE plant_id = ${plantId} AND machine_id = ${machineId}
      AND at >= coalesce((SELECT max(at) FROM counter_reading WHERE plant_id = ${plantId} AND machine_id = ${machineId} AND at < ${from}), ${from}::timestamptz)
      AND at <= coalesce((SELECT min(at) FROM counter_reading WHERE plant_id = ${plantId} AND machine_id = ${machineId} AND at > ${until}), ${until}::timestamptz) ORDER BY at`;
  return rows.map((row) => ({ ...row, at: row.at.getTime() }));
}

export async function highestReading(tx: Tx, plantId: number, machineId: number): Promise<number | null> {
  const [row] = await tx.$queryRaw<{ highest: number | null }[]>`SELECT max(greatest(good, rejected)) AS highest FROM counter_reading WHERE plant_id = ${plantId} AND machine_id = ${machineId}`;
  return row?.highest ?? null;
}

export async function upsertCounter(tx: Tx, plantId: number, { machineId, rollsOverAt, mostPerMinute }: CounterOf, actor: string, now: Date): Promise<void> {
  const data = { rollsOverAt, mostPerMinute, changedBy: actor, changedAt: now };
  await tx.counterSetting.upsert({ where: { plantId_machineId: { plantId, machineId } }, create: { plantId, machineId, ...data }, update: data });
}

/** Appends decisions that say something new: the same refusal, or what already stands about a span, is not written again. */
export async function appendDecisions(tx: Tx, plantId: number, decisions: readonly NewDecision[], now: Date, actor: string): Promise<void> {
  await tx.$executeRaw`
    INSERT INTO counter_decision (plant_id, machine_id, kind, counter, at, until, cans, least, detail, decided_at, actor)
    SELECT ${plantId}, g."machineId", g.kind, g.counter, g.at, g.until, g.cans, g.least, g.detail, ${now}, ${actor}
    FROM jsonb_to_recordset(${JSON.stringify(decisions)}::jsonb) AS g("machineId" int, kind text, counter text, at timestamptz, until timestamptz, cans float8, least float8, detail text)
    LEFT JOIN LATERAL (
      SELECT d.kind, d.cans, d.detail FROM counter_decision d WHERE d.plant_id = ${plantId} AND d.machine_id IS NOT DISTINCT FROM g."machineId" AND d.at IS NOT DISTINCT FROM g.at
        AND d.until IS NOT DISTINCT FROM g.until AND d.counter IS NOT DISTINCT FROM g.counter AND (d.kind = 'refused') = (g.kind = 'refused') AND (g.kind <> 'refused' OR d.detail = g.detail) ORDER BY d.id DESC LIMIT 1) before ON true
    WHERE (g.kind = 'counted' AND before.kind IS NOT NULL AND before.kind <> 'counted')
       OR (g.kind <> 'counted' AND (before.kind, before.cans) IS DISTINCT FROM (g.kind, g.cans))`;
}

export async function listCounterRows(tx: Tx, plantId: number, now: Date): Promise<MachineCounter[]> {
  const rows = await tx.$queryRaw<(Omit<MachineCounter, 'last' | 'changedAt'> & { changedAt: Date | null; lastAt: Date | null; good: number; rejected: number | null; receivedAt: Date })[]>`
    SELECT m.id AS "machineId", m.code AS machine, m.name, l.code AS line, s.kind AS "stepKind", c.rolls_over_at AS "rollsOverAt", c.most_per_minute AS "mostPerMinute", c.changed_by AS "changedBy", c.changed_at AS "changedAt",
      last.at AS "lastAt", last.good, last.rejected, last.received_at AS "receivedAt",
      (SELECT count(*) FROM counter_reading r WHERE r.plant_id = m.plant_id AND r.machine_id = m.id)::int AS readings, gap.gaps::int, gap.minutes::float8 AS "gapMinutes"
    FROM machine m JOIN step s ON s.plant_id = m.plant_id AND s.id = m.step_id JOIN line l ON l.plant_id = s.plant_id AND l.id = s.line_id
    LEFT JOIN counter_setting c ON c.plant_id = m.plant_id AND c.machine_id = m.id
    LEFT JOIN LATERAL (SELECT at, good, rejected, received_at FROM counter_reading r WHERE r.plant_id = m.plant_id AND r.machine_id = m.id ORDER BY at DESC LIMIT 1) last ON true
    CROSS JOIN LATERAL (
      SELECT count(*) AS gaps, coalesce(sum(extract(epoch FROM pair.at - pair.before)) / 60, 0) AS minutes FROM (
        SELECT r.at, lag(r.at) OVER (ORDER BY r.at) AS before FROM counter_reading r WHERE r.plant_id = m.plant_id AND r.machine_id = m.id AND r.at > ${now}::timestamptz - interval '7 days') pair
      WHERE pair.before IS NOT NULL AND NOT EXISTS (SELECT 1 FROM production_count k WHERE k.plant_id = m.plant_id AND k.machine_id = m.id AND k.at <= pair.before AND k.at > pair.before - interval '1 day'
        AND k.at + make_interval(secs => k.minutes * 60) > pair.before)) gap
    WHERE m.plant_id = ${plantId} AND m.retired_at IS NULL ORDER BY l.position, s.position, m.code`;
  return rows.map(({ lastAt, good, rejected, receivedAt, changedAt, ...row }) => ({ ...row, changedAt: changedAt?.toISOString() ?? null, last: lastAt === null ? null : { at: lastAt.toISOString(), good, rejected, receivedAt: receivedAt.toISOString() } }));
}

/** Newest first, with whether a later reading in the span or a later decision about it took the place of each. */
export async function listDecisionRows(tx: Tx, plantId: number, machineId: number | null): Promise<CounterDecision[]> {
  const rows = await tx.$queryRaw<(Omit<CounterDecision, 'at' | 'until' | 'decidedAt'> & { at: Date | null; until: Date | null; decidedAt: Date })[]>`
    SELECT d.id, d.machine_id AS "machineId", m.code AS machine, l.code AS line, d.kind, d.counter, d.at, d.until, d.cans, d.least, d.detail, d.decided_at AS "decidedAt", d.actor,
      d.until IS NOT NULL AND (EXISTS (SELECT 1 FROM counter_reading r WHERE r.plant_id = d.plant_id AND r.machine_id = d.machine_id AND r.at > d.at AND r.at < d.until)
        OR EXISTS (SELECT 1 FROM counter_decision n WHERE n.plant_id = d.plant_id AND n.machine_id = d.machine_id AND n.at = d.at AND n.until = d.until AND n.counter IS NOT DISTINCT FROM d.counter AND n.id > d.id)) AS replaced
    FROM counter_decision d LEFT JOIN machine m ON m.plant_id = d.plant_id AND m.id = d.machine_id LEFT JOIN step s ON s.plant_id = m.plant_id AND s.id = m.step_id LEFT JOIN line l ON l.plant_id = s.plant_id AND l.id = s.line_id
    WHERE d.plant_id = ${plantId} AND (${machineId}::int IS NULL OR d.machine_id = ${machineId}) ORDER BY d.id DESC LIMIT 200`;
  return rows.map((row) => ({ ...row, at: row.at?.toISOString() ?? null, until: row.until?.toISOString() ?? null, decidedAt: row.decidedAt.toISOString() }));
}
