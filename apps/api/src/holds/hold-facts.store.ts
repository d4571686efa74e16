import type { FieldError } from '#contract/problem';
import type { CountBucket } from '#canmaking/line/cans-at-risk';
import type { Tx } from '../platform/work.js';

export type HoldPlace = { lineId: number; stepId: number | null; machineId: number | null; unitId: number | null; laneId: number | null };
type Place = { machines: { id: number; code: string }[]; units: number; lanes: number };

/** The machines that count for the place and how many equal shares it has; or what in it is not of that line. */
export async function findPlace(tx: Tx, plantId: number, place: HoldPlace): Promise<Place | FieldError[]> {
  const [row] = await tx.$queryRaw<{ line: boolean; step: boolean; machine: boolean; unit: boolean; lane: boolean; machines: Place['machines']; units: number; lanes: number }[]>`
    WITH m AS (SELECT m.id, m.code, m.step_id FROM machine m JOIN step s ON s.plant_id = m.plant_id AND s.id = m.step_id WHERE m.plant_id = ${plantId} AND s.line_id = ${place.lineId}),
      u AS (SELECT u.id, u.machine_id FROM unit u JOIN m ON m.id = u.machine_id WHERE u.plant_id = ${plantId}),
      mine AS (SELECT machine_id FROM u WHERE u.id = ${place.unitId}::int),
      n AS (SELECT id FROM lane WHERE plant_id = ${plantId} AND line_id = ${place.lineId})
    SELECT EXISTS (SELECT 1 FROM line WHERE plant_id = ${plantId} AND id = ${place.lineId}) AS line, EXISTS (SELECT 1 FROM step WHERE plant_id = ${plantId} AND line_id = ${place.lineId} AND id = ${place.stepId}::int) AS step,
      EXISTS (SELECT 1 FROM m WHERE id = ${place.machineId}::int AND (${place.stepId}::int IS NULL OR step_id = ${place.stepId}::int)) AS machine,
      EXISTS (SELECT 1 FROM mine JOIN m ON m.id = mine.machine_id WHERE (${place.machineId}::int IS NULL OR m.id = ${place.machineId}::int) AND (${place.stepId}::int IS NULL OR m.step_id = ${place.stepId}::int)) AS unit, EXISTS (SELECT 1 FROM n WHERE id = ${place.laneId}::int) AS lane,
      (SELECT coalesce(jsonb_agg(jsonb_build_object('id', id, 'code', code) ORDER BY code), '[]') FROM m
        WHERE CASE WHEN ${place.unitId}::int IS NOT NULL THEN id IN (SELECT machine_id FROM mine) WHEN ${place.machineId}::int IS NOT NULL THEN id = ${place.machineId}::int ELSE step_id = ${place.stepId}::int END) AS machines,
      greatest(1, (SELECT count(*) FROM u WHERE machine_id IN (SELECT machine_id FROM mine)))::int AS units,
      CASE WHEN ${place.laneId}::int IS NULL THEN 1 ELSE greatest(1, (SELECT count(*) FROM n)) END::int AS lanes`;
  const faults = (['line', 'step', 'machine', 'unit', 'lane'] as const).filter((name) => place[`${name}Id`] !== null && !row?.[name]);
  if (!row || faults.length > 0) return faults.map((name) => ({ field: `${name}Id`, expected: name === 'line' ? 'a line of this plant' : `a ${name} of this line${name === 'machine' || name === 'unit' ? ', and of the step and machine that are named' : ''}` }));
  return { machines: row.machines, units: row.units, lanes: row.lanes };
}

/** What a machine counted around a span; a span of counting is at most a day long. */
export async function listBuckets(tx: Tx, plantId: number, machineId: number, from: Date, until: Date): Promise<CountBucket[]> {
  const rows = await tx.$queryRaw<{ at: Date; minutes: number; good: number }[]>`
    SELECT at, minutes, good FROM production_count
    WHERE plant_id = ${plantId} AND machine_id = ${machineId} AND at > ${new Date(from.getTime() - 86_400_000)} AND at < ${until} AND at + make_interval(secs => minutes * 60) > ${from} ORDER BY at`;
  return rows.map((row) => ({ ...row, at: row.at.getTime() }));
}

/** Signal and incident that are not of this plant, as faults of their fields. */
export async function originFaults(tx: Tx, plantId: number, { signalId, incidentId }: { signalId: number | null; incidentId: number | null }): Promise<FieldError[]> {
  const signals = signalId === null ? 1 : await tx.signal.count({ where: { plantId, id: signalId } });
  const incidents = incidentId === null ? 1 : await tx.incident.count({ where: { plantId, id: incidentId } });
  return [...(signals === 0 ? [{ field: 'signalId', expected: 'a signal of this plant' }] : []), ...(incidents === 0 ? [{ field: 'incidentId', expected: 'an incident of this plant' }] : [])];
}
