import type { TestedWindow, WeldWindow, WeldWindowScope } from '#contract/weld-windows';
import type { Tx } from '../platform/work.js';

type Row = {
  id: number; lineId: number; line: string; machineId: number | null; machine: string | null; productId: number | null; product: string | null;
  characteristicId: number; code: string; name: string; unit: string; decimals: number; version: number; lower: number | null; upper: number | null; nearEdge: number | null;
  material: string; speed: number | null; wire: string; testedAt: Date | null; testedBy: string; evidence: string; effectiveFrom: Date; author: string; at: Date; reason: string;
};

/** Every version, newest first within each place. */
export async function listWindowVersions(tx: Tx, plantId: number, id?: number): Promise<WeldWindow[]> {
  const rows = await tx.$queryRaw<Row[]>`
    SELECT w.id, l.id AS "lineId", l.code AS line, w.machine_id AS "machineId", m.code AS machine, w.product_id AS "productId", p.code AS product, c.id AS "characteristicId", c.code, c.name, c.unit, c.decimals,
      w.version, w.lower, w.upper, w.near_edge AS "nearEdge", w.material, w.speed, w.wire, w.tested_at AS "testedAt", w.tested_by AS "testedBy", w.evidence, w.effective_from AS "effectiveFrom", w.author, w.at, w.reason
    FROM weld_window w LEFT JOIN machine m ON m.plant_id = w.plant_id AND m.id = w.machine_id LEFT JOIN step s ON s.plant_id = m.plant_id AND s.id = m.step_id
    JOIN line l ON l.plant_id = w.plant_id AND l.id = coalesce(w.line_id, s.line_id) LEFT JOIN product p ON p.plant_id = w.plant_id AND p.id = w.product_id
    JOIN characteristic c ON c.plant_id = w.plant_id AND c.id = w.characteristic_id
    WHERE w.plant_id = ${plantId} AND (${id ?? null}::int IS NULL OR w.id = ${id ?? null}::int)
    ORDER BY l.position, m.code NULLS FIRST, p.code NULLS FIRST, c.code, w.version DESC`;
  return rows.map(viewOf);
}

function viewOf(row: Row): WeldWindow {
  const { lower, upper, nearEdge, testedAt } = row;
  const window = lower === null || upper === null || nearEdge === null || testedAt === null ? null
    : { lower, upper, nearEdge, material: row.material, speed: row.speed, wire: row.wire, testedAt: testedAt.toISOString(), testedBy: row.testedBy, evidence: row.evidence };
  return {
    id: row.id, scope: { place: row.machineId === null ? { kind: 'line', lineId: row.lineId } : { kind: 'machine', machineId: row.machineId }, productId: row.productId, characteristicId: row.characteristicId },
    line: { id: row.lineId, code: row.line }, machine: row.machineId === null ? null : { id: row.machineId, code: row.machine ?? '' }, product: row.productId === null ? null : { id: row.productId, code: row.product ?? '' },
    characteristic: { id: row.characteristicId, code: row.code, name: row.name, unit: row.unit, decimals: row.decimals },
    version: row.version, window, effectiveFrom: row.effectiveFrom.toISOString(), author: row.author, at: row.at.toISOString(), reason: row.reason,
  };
}

/** What a scope refers to, as far as it exists: kind of the machine's step, whether the line welds and the product is there, the characteristic. */
export async function findScope(tx: Tx, plantId: number, { place, productId, characteristicId }: WeldWindowScope) {
  const [row] = await tx.$queryRaw<{ machineStep: string | null; welds: boolean; lineThere: boolean; productThere: boolean; kind: string | null; derived: boolean; stepKind: string | null; unit: string | null; plausibleLow: number | null; plausibleHigh: number | null }[]>`
    SELECT (SELECT s.kind FROM machine m JOIN step s ON s.plant_id = m.plant_id AND s.id = m.step_id WHERE m.plant_id = ${plantId} AND m.id = ${place.kind === 'machine' ? place.machineId : null}::int) AS "machineStep",
      EXISTS (SELECT 1 FROM step s WHERE s.plant_id = ${plantId} AND s.line_id = ${place.kind === 'line' ? place.lineId : null}::int AND s.kind = 'body-maker') AS welds,
      EXISTS (SELECT 1 FROM line l WHERE l.plant_id = ${plantId} AND l.id = ${place.kind === 'line' ? place.lineId : null}::int) AS "lineThere",
      EXISTS (SELECT 1 FROM product p WHERE p.plant_id = ${plantId} AND p.id = ${productId}::int) AS "productThere",
      c.kind, c.formula IS NOT NULL AS derived, c.step_kind AS "stepKind", c.unit, c.plausible_low AS "plausibleLow", c.plausible_high AS "plausibleHigh"
    FROM (SELECT 1) one LEFT JOIN characteristic c ON c.plant_id = ${plantId} AND c.id = ${characteristicId}::int`;
  return row;
}

/** Characteristics that are a setting of the welder: measured there in ampere, or given a window by the plant. */
export async function listSettingIds(tx: Tx, plantId: number): Promise<number[]> {
  const rows = await tx.$queryRaw<{ id: number }[]>`
    SELECT c.id FROM characteristic c WHERE c.plant_id = ${plantId} AND c.kind = 'variable' AND c.formula IS NULL AND c.step_kind = 'body-maker'
      AND (c.unit IN ('A', 'kA') OR EXISTS (SELECT 1 FROM weld_window w WHERE w.plant_id = c.plant_id AND w.characteristic_id = c.id))`;
  return rows.map(({ id }) => id);
}

/** One writer of weld windows a plant at a time, so that two new versions cannot get one number. */
export async function lockWeldWindows(tx: Tx, plantId: number): Promise<void> {
  await tx.$executeRaw`SELECT pg_advisory_xact_lock(hashtext('weld_window'), ${plantId}::int)`;
}

type NewWindow = { scope: WeldWindowScope; version: number; window: TestedWindow | null; effectiveFrom: Date; author: string; authorId: number; reason: string; at: Date };
export async function insertWindow(tx: Tx, plantId: number, { scope: { place, productId, characteristicId }, window, ...row }: NewWindow): Promise<number> {
  const tested = window && { ...window, testedAt: new Date(window.testedAt) };
  const where = place.kind === 'line' ? { lineId: place.lineId, machineId: null } : { lineId: null, machineId: place.machineId };
  return (await tx.weldWindow.create({ data: { plantId, ...where, productId, characteristicId, ...row, ...tested }, select: { id: true } })).id;
}
