import type { Mapping, Layout, ImportView } from '#contract/ingest';
import { layout as layoutShape, mapping as mappingShape, importState } from '#contract/ingest';
import type { Prisma } from '../platform/generated/client.js';
import type { Tx } from '../platform/work.js';
import { lookupOf, type Names } from './names.js';

export type StoredImport = { id: number; state: ImportView['state']; content: Uint8Array; layout: Layout | null; mapping: Mapping | null; startedBy: number | null };

const VIEW = { id: true, fileName: true, state: true, rows: true, done: true, readings: true, stored: true, refused: true, problem: true, startedBy: true, startedAt: true, finishedAt: true, undoneAt: true } as const;
type Row = { id: number; fileName: string; state: string; rows: number; done: number; readings: number; stored: number; refused: number; problem: string | null; startedBy: number | null; startedAt: Date; finishedAt: Date | null; undoneAt: Date | null };

async function withExtras(tx: Tx, plantId: number, rows: readonly Row[]): Promise<ImportView[]> {
  const extras = await tx.$queryRaw<{ id: number; bytes: number; has: boolean; name: string; stopper: string | null }[]>`
    SELECT i.id, octet_length(i.content) AS bytes, i.refused_csv IS NOT NULL AS has, coalesce(u.name, i.feed, '') AS name, s.name AS stopper
    FROM import i LEFT JOIN "user" u ON u.plant_id = i.plant_id AND u.id = i.started_by LEFT JOIN "user" s ON s.plant_id = i.plant_id AND s.id = i.stopped_by
    WHERE i.plant_id = ${plantId} AND i.id = ANY(${rows.map((row) => row.id)}::int[])`;
  const byId = new Map(extras.map((extra) => [extra.id, extra]));
  return rows.map(({ startedBy: _by, ...row }) => ({
    ...row, state: importState.parse(row.state), bytes: byId.get(row.id)?.bytes ?? 0, hasRefusedRows: byId.get(row.id)?.has ?? false, startedBy: byId.get(row.id)?.name ?? '', stoppedBy: byId.get(row.id)?.stopper ?? null,
    startedAt: row.startedAt.toISOString(), finishedAt: row.finishedAt?.toISOString() ?? null, undoneAt: row.undoneAt?.toISOString() ?? null,
  }));
}

export async function insertImport(tx: Tx, plantId: number, file: { fileName: string; sha256: string; content: Uint8Array; startedBy: number | null; feed?: string; startedAt: Date }): Promise<number> {
  return (await tx.import.create({ data: { plantId, ...file, content: new Uint8Array(file.content), mapping: {}, state: 'new' }, select: { id: true } })).id;
}

export const listImportViews = async (tx: Tx, plantId: number) => withExtras(tx, plantId, await tx.import.findMany({ where: { plantId, NOT: { state: 'new' } }, select: VIEW, orderBy: { id: 'desc' }, take: 100 }));

export async function findImportView(tx: Tx, plantId: number, id: number): Promise<ImportView | null> {
  const row = await tx.import.findUnique({ where: { plantId_id: { plantId, id } }, select: VIEW });
  return row ? (await withExtras(tx, plantId, [row]))[0] ?? null : null;
}

export async function findStoredImport(tx: Tx, plantId: number, id: number): Promise<StoredImport | null> {
  // As base64: the client library takes bytes apart and puts them together again, which for a large file costs as much as reading half of it.
  const [row] = await tx.$queryRaw<{ id: number; state: string; content: string; mapping: unknown; started_by: number | null }[]>`
    SELECT id, state, encode(content, 'base64') AS content, mapping, started_by FROM import WHERE plant_id = ${plantId} AND id = ${id}`;
  if (!row) return null;
  const kept = row.mapping as { layout?: unknown; mapping?: unknown } | null;
  const [layout, mapping] = [layoutShape.safeParse(kept?.layout), mappingShape.safeParse(kept?.mapping)];
  return { id: row.id, state: importState.parse(row.state), content: Buffer.from(row.content, 'base64'), startedBy: row.started_by, layout: layout.success ? layout.data : null, mapping: mapping.success ? mapping.data : null };
}

/** Moves an import from one of these states to another; false when it was in none of them. */
export async function moveImport(tx: Tx, plantId: number, id: number, from: readonly string[], data: Prisma.ImportUpdateManyMutationInput): Promise<boolean> {
  return (await tx.import.updateMany({ where: { plantId, id, state: { in: [...from] } }, data })).count > 0;
}

/** The same statement that stores readings also tells how far the import is: both are there, or neither. */
export async function addProgress(tx: Tx, plantId: number, id: number, more: { done: number; stored: number }): Promise<boolean> {
  return (await tx.$executeRaw`/* named: import-progress */ UPDATE import SET done = done + ${more.done}, stored = stored + ${more.stored} WHERE plant_id = ${plantId} AND id = ${id} AND state = 'running'`) > 0;
}

/** Imports that a stopped server left running. */
export async function stopOrphans(tx: Tx): Promise<void> {
  await tx.import.updateMany({ where: { state: 'running' }, data: { state: 'stopped', problem: 'The server was restarted: continue the import, nothing is stored twice.' } });
}

export const findRefusedCsv = (tx: Tx, plantId: number, id: number) => tx.import.findUnique({ where: { plantId_id: { plantId, id } }, select: { refusedCsv: true, fileName: true } });

export async function findMapping(tx: Tx, plantId: number, fingerprint: string): Promise<{ layout: Layout; mapping: Mapping } | null> {
  const row = await tx.importMapping.findUnique({ where: { plantId_fingerprint: { plantId, fingerprint } }, select: { mapping: true } });
  const kept = row?.mapping as { layout?: unknown; mapping?: unknown } | null | undefined;
  const [layout, mapping] = [layoutShape.safeParse(kept?.layout), mappingShape.safeParse(kept?.mapping)];
  return layout.success && mapping.success ? { layout: layout.data, mapping: mapping.data } : null;
}

export async function rememberMapping(tx: Tx, plantId: number, fingerprint: string, name: string, kept: { layout: Layout; mapping: Mapping }): Promise<void> {
  const data = { name, mapping: kept, usedAt: new Date() };
  await tx.importMapping.upsert({ where: { plantId_fingerprint: { plantId, fingerprint } }, create: { plantId, fingerprint, ...data }, update: data });
}

/** What files of this plant may call things. */
export async function loadNames(tx: Tx, plantId: number): Promise<Names> {
  const machines = await tx.$queryRaw<{ id: number; code: string; name: string; line_id: number; kind: string; units: { id: number; code: string }[]; lanes: { id: number; code: string; name: string }[] }[]>`
    SELECT m.id, m.code, m.name, s.line_id, s.kind,
      (SELECT coalesce(jsonb_agg(jsonb_build_object('id', u.id, 'code', u.code)), '[]') FROM unit u WHERE u.plant_id = m.plant_id AND u.machine_id = m.id) AS units,
      (SELECT coalesce(jsonb_agg(jsonb_build_object('id', l.id, 'code', l.code, 'name', l.name)), '[]') FROM lane l WHERE l.plant_id = m.plant_id AND l.line_id = s.line_id) AS lanes
    FROM machine m JOIN step s ON s.plant_id = m.plant_id AND s.id = m.step_id WHERE m.plant_id = ${plantId} AND m.retired_at IS NULL`;
  const [products, characteristics, gauges] = await Promise.all([tx.product.findMany({ where: { plantId, retiredAt: null } }), tx.characteristic.findMany({ where: { plantId } }), tx.gauge.findMany({ where: { plantId } })]);
  return {
    machines: lookupOf(machines.map((row) => ({ code: row.code, name: row.name, value: { id: row.id, code: row.code, lineId: row.line_id, stepKind: row.kind, units: lookupOf(row.units.map((unit) => ({ code: unit.code, value: unit.id }))), lanes: lookupOf(row.lanes.map((lane) => ({ code: lane.code, name: lane.name, value: lane.id }))) } }))),
    products: lookupOf(products.map((row) => ({ code: row.code, name: row.name, value: { id: row.id, code: row.code } }))),
    characteristics: lookupOf(characteristics.map((row) => ({ code: row.code, name: row.name, value: { id: row.id, code: row.code, name: row.name, unit: row.unit, stepKind: row.stepKind, derived: row.formula !== null, plausibleLow: row.plausibleLow, plausibleHigh: row.plausibleHigh } }))),
    gauges: lookupOf(gauges.map((row) => ({ code: row.code, name: row.name, value: row.id }))),
  };
}

/** Readings that are stored for these machines, products and moments, by place; null where a correction has taken one out. */
export async function listStoredPlaces(tx: Tx, plantId: number, moments: readonly { machineId: number; productId: number; takenAt: string }[]): Promise<{ machine_id: number; product_id: number; taken_at: Date; check_id: number; key: string; characteristic_id: number; unit_id: number | null; lane_id: number | null; can: number; position: string; value: number | null }[]> {
  // Moment by moment, and check by check, through the indexes (OFFSET 0): on a table that has just grown, the planner would join all of it.
  return tx.$queryRaw`
    /* named: stored-places */ SELECT c.machine_id, c.product_id, c.taken_at, c.id AS check_id, c.key, s.characteristic_id, s.unit_id, s.lane_id, c.can_numbers[g.cans[1 + (r.place - 1) / cardinality(c.positions)] + 1] AS can, c.positions[1 + (r.place - 1) % cardinality(c.positions)] AS position, r.value
    FROM unnest(${moments.map((moment) => moment.machineId)}::int[], ${moments.map((moment) => moment.productId)}::int[], ${moments.map((moment) => moment.takenAt)}::timestamptz[]) AS w(machine_id, product_id, taken_at)
    CROSS JOIN LATERAL (SELECT c.* FROM "check" c WHERE c.plant_id = ${plantId} AND c.machine_id = w.machine_id AND c.taken_at = w.taken_at AND c.product_id = w.product_id AND c.voided_at IS NULL OFFSET 0) AS c
    CROSS JOIN LATERAL (SELECT g.* FROM subgroup g WHERE g.plant_id = c.plant_id AND g.check_id = c.id AND g.formula IS NULL OFFSET 0) AS g
    JOIN stream s ON s.plant_id = g.plant_id AND s.id = g.stream_id
    CROSS JOIN LATERAL unnest(g.readings) WITH ORDINALITY AS r(value, place)
    WHERE r.value IS NOT NULL OR EXISTS (
      SELECT 1 FROM subgroup_revision v WHERE v.plant_id = g.plant_id AND v.stream_id = g.stream_id AND v.check_id = g.check_id AND v.readings[r.place] IS NOT NULL)`;
}

/** Files that were brought and never started are no record of anything: they go after a week. */
export async function deleteAbandoned(tx: Tx, plantId: number, before: Date): Promise<void> {
  await tx.import.deleteMany({ where: { plantId, state: 'new', startedAt: { lt: before } } });
}

/** The newest import that came by this way from a file of this name and content, and was not undone. */
export async function findDroppedImport(tx: Tx, plantId: number, feed: string, file: { fileName: string; sha256: string }): Promise<{ id: number; state: string; stoppedBy: number | null } | null> {
  return tx.import.findFirst({ where: { plantId, feed, sha256: file.sha256, fileName: file.fileName.slice(0, 200), NOT: { state: 'undone' } }, select: { id: true, state: true, stoppedBy: true }, orderBy: { id: 'desc' } });
}

/** Whose files the watched folder takes. */
export const findPlantOfFiles = (tx: Tx) => tx.plant.findFirst({ select: { id: true, timeZone: true }, orderBy: { id: 'asc' } });
