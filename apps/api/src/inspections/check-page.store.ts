import type { CheckSkip, SecondReading } from '#contract/check-extras';
import type { Tx } from '../platform/work.js';

export type CheckHeader = {
  id: number; takenAt: Date; enteredAt: Date; enteredBy: string; inspector: string; source: string; note: string | null; voidedAt: Date | null; plan: string | null; planId: number | null;
  machineId: number; machineCode: string; machineName: string; productId: number; productCode: string; productName: string; importId: number | null; importFile: string | null;
  canNumbers: number[]; canUnits: (string | null)[]; canLanes: (string | null)[]; canUnitIds: number[]; canLaneIds: number[]; positions: string[];
  begunAt: Date | null; finishedAt: Date | null; skips: CheckSkip[]; secondReadings: SecondReading[];
};

/** A check with the names of what it refers to, or null. */
export async function findCheckHeader(tx: Tx, plantId: number, checkId: number): Promise<CheckHeader | null> {
  const [row] = await tx.$queryRaw<CheckHeader[]>`
    SELECT k.id, k.taken_at AS "takenAt", k.entered_at AS "enteredAt", coalesce(person.name, k.feed) AS "enteredBy", k.inspector, k.source, k.note, k.voided_at AS "voidedAt", pl.name AS plan, k.plan_id AS "planId",
      m.id AS "machineId", m.code AS "machineCode", m.name AS "machineName", p.id AS "productId", p.code AS "productCode", p.name AS "productName", k.import_id AS "importId", i.file_name AS "importFile",
      k.can_numbers AS "canNumbers", k.can_unit_ids AS "canUnitIds", k.can_lane_ids AS "canLaneIds", k.positions,
      k.begun_at AS "begunAt", k.finished_at AS "finishedAt", k.skips, k.second_readings AS "secondReadings",
      (SELECT jsonb_agg(u.code ORDER BY place) FROM unnest(k.can_unit_ids) WITH ORDINALITY AS c(unit_id, place) LEFT JOIN unit u ON u.plant_id = k.plant_id AND u.id = c.unit_id) AS "canUnits",
      (SELECT jsonb_agg(l.code ORDER BY place) FROM unnest(k.can_lane_ids) WITH ORDINALITY AS c(lane_id, place) LEFT JOIN lane l ON l.plant_id = k.plant_id AND l.id = c.lane_id) AS "canLanes"
    FROM "check" k
    JOIN machine m ON m.plant_id = k.plant_id AND m.id = k.machine_id
    JOIN product p ON p.plant_id = k.plant_id AND p.id = k.product_id
    LEFT JOIN "user" person ON person.plant_id = k.plant_id AND person.id = k.entered_by
    LEFT JOIN check_plan pl ON pl.plant_id = k.plant_id AND pl.id = k.plan_id
    LEFT JOIN import i ON i.plant_id = k.plant_id AND i.id = k.import_id
    WHERE k.plant_id = ${plantId} AND k.id = ${checkId}`;
  return row ?? null;
}

export type CheckRevisionRow = {
  streamId: number; takenAt: string; sequence: number; revision: number; readings: (number | null)[];
  characteristic: string; characteristicName: string; unit: string; decimals: number; machineUnit: string | null; lane: string | null; unitId: number | null; laneId: number | null;
  replacedAt: string; replacedBy: string; reason: string;
};

/** Every replaced state of the check's subgroups, oldest first in each subgroup. */
export async function listCheckRevisions(tx: Tx, plantId: number, checkId: number): Promise<CheckRevisionRow[]> {
  const rows = await tx.$queryRaw<{ row: CheckRevisionRow }[]>`
    SELECT jsonb_build_object(
      'streamId', r.stream_id, 'takenAt', to_char(r.taken_at AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"'), 'sequence', r.sequence, 'revision', r.revision, 'readings', to_jsonb(r.readings),
      'characteristic', c.code, 'characteristicName', c.name, 'unit', c.unit, 'decimals', c.decimals, 'machineUnit', u.code, 'lane', la.code, 'unitId', s.unit_id, 'laneId', s.lane_id,
      'replacedAt', to_char(r.replaced_at AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"'), 'replacedBy', person.name, 'reason', r.reason) AS row
    FROM subgroup_revision r
    JOIN stream s ON s.plant_id = r.plant_id AND s.id = r.stream_id
    JOIN characteristic c ON c.plant_id = r.plant_id AND c.id = s.characteristic_id
    JOIN "user" person ON person.plant_id = r.plant_id AND person.id = r.replaced_by
    LEFT JOIN unit u ON u.plant_id = r.plant_id AND u.id = s.unit_id
    LEFT JOIN lane la ON la.plant_id = r.plant_id AND la.id = s.lane_id
    WHERE r.plant_id = ${plantId} AND r.check_id = ${checkId}
    ORDER BY r.stream_id, r.taken_at, r.sequence, r.revision`;
  return rows.map(({ row }) => row);
}

export type CheckRow = {
  id: number; takenAt: Date; enteredAt: Date; inspector: string; source: string; machine: string; product: string; plan: string | null; cans: number;
  voidedAt: Date | null; corrected: boolean; judged: number; subgroups: number; signalIds: number[];
};

/** Checks, newest first; those of in-line monitors are not checks that somebody made, and would bury them. Of one customer's products where one is given. */
export function listChecks(tx: Tx, plantId: number, filter: { machine?: number; product?: number; from?: string; to?: string; take: number }, customer: string | null = null): Promise<CheckRow[]> {
  return tx.$queryRaw<CheckRow[]>`
    WITH chosen AS (
      SELECT * FROM "check" k WHERE k.plant_id = ${plantId} AND k.source <> 'monitor'
        AND (${filter.machine ?? null}::int IS NULL OR k.machine_id = ${filter.machine ?? null}::int) AND (${filter.product ?? null}::int IS NULL OR k.product_id = ${filter.product ?? null}::int)
        AND (${customer}::text IS NULL OR EXISTS (SELECT 1 FROM product own WHERE own.plant_id = k.plant_id AND own.id = k.product_id AND own.customer = ${customer}))
        AND k.taken_at >= coalesce(${filter.from ?? null}::timestamptz, '-infinity') AND k.taken_at <= coalesce(${filter.to ?? null}::timestamptz, 'infinity')
      ORDER BY k.taken_at DESC, k.id DESC LIMIT ${filter.take})
    SELECT k.id, k.taken_at AS "takenAt", k.entered_at AS "enteredAt", k.inspector, k.source, m.code AS machine, p.code AS product, pl.name AS plan, cardinality(k.can_numbers) AS cans, k.voided_at AS "voidedAt",
      EXISTS (SELECT 1 FROM subgroup_revision r WHERE r.plant_id = k.plant_id AND r.check_id = k.id) AND k.voided_at IS NULL AS corrected,
      g.judged, g.subgroups, g."signalIds"
    FROM chosen k
    JOIN machine m ON m.plant_id = k.plant_id AND m.id = k.machine_id
    JOIN product p ON p.plant_id = k.plant_id AND p.id = k.product_id
    LEFT JOIN check_plan pl ON pl.plant_id = k.plant_id AND pl.id = k.plan_id
    CROSS JOIN LATERAL (
      SELECT count(*)::int AS subgroups, count(*) FILTER (WHERE g.limits_id IS NOT NULL AND g.mean IS NOT NULL)::int AS judged,
        coalesce((SELECT jsonb_agg(DISTINCT sp.signal_id) FROM subgroup h JOIN signal_point sp ON sp.plant_id = h.plant_id AND sp.stream_id = h.stream_id AND sp.taken_at = h.taken_at AND sp.sequence = h.sequence
          WHERE h.plant_id = k.plant_id AND h.check_id = k.id), '[]') AS "signalIds"
      FROM subgroup g WHERE g.plant_id = k.plant_id AND g.check_id = k.id) g
    ORDER BY k.taken_at DESC, k.id DESC`;
}

/** Nobody else signs, corrects, seals anew or takes these checks back until the transaction ends. Streams are locked before checks. */
export async function lockChecks(tx: Tx, plantId: number, ids: readonly number[]): Promise<void> {
  await tx.$queryRaw`SELECT id FROM "check" WHERE plant_id = ${plantId} AND id = ANY(${[...ids]}::int[]) ORDER BY id FOR NO KEY UPDATE`;
}
