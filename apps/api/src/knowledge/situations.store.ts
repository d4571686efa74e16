import { findDefect } from '#canmaking/defects/taxonomy';
import type { Tx } from '../platform/work.js';
import type { Situation } from './suggest.js';

// What people write of a value that rose or fell.
const ABOVE = 'up wide long high thick grows rises';
const BELOW = 'down narrow short low thin falls loses';

// Places that few notes speak of; "end" or "body" would fit nearly all.
const NARROW: ReadonlySet<string> = new Set(['juncture', 'side seam', 'flange']);

/** Null when the signal is gone. */
export async function signalSituation(tx: Tx, plantId: number, signalId: number): Promise<Situation | null> {
  const [row] = await tx.$queryRaw<{ name: string; side: string; step: string; machine: string; unit: boolean; chart: string }[]>`
    SELECT c.name, g.side, t.kind AS step, m.code AS machine, s.unit_id IS NOT NULL AS unit, g.chart
    FROM signal g JOIN stream s ON s.plant_id = g.plant_id AND s.id = g.stream_id JOIN characteristic c ON c.plant_id = s.plant_id AND c.id = s.characteristic_id
    JOIN machine m ON m.plant_id = s.plant_id AND m.id = s.machine_id JOIN step t ON t.plant_id = m.plant_id AND t.id = m.step_id
    WHERE g.plant_id = ${plantId} AND g.id = ${signalId}`;
  if (!row) return null;
  const direction = row.chart === 'spread' ? 'range spread scatter' : row.side === 'above' ? ABOVE : BELOW;
  return { words: `${row.name} ${row.step.replaceAll('-', ' ')} ${direction}`, stepKinds: [row.step], machine: row.machine, defect: null, place: null };
}

export async function incidentSituation(tx: Tx, plantId: number, incidentId: number): Promise<Situation | null> {
  const row = await tx.incident.findUnique({ where: { plantId_id: { plantId, id: incidentId } }, select: { defect: true, leakPlace: true, description: true } });
  if (!row) return null;
  return { words: `${findDefect(row.defect)?.name ?? ''} ${row.leakPlace} ${row.description}`, stepKinds: findDefect(row.defect)?.upstreamSteps ?? [], machine: null, defect: row.defect, place: NARROW.has(row.leakPlace) ? row.leakPlace : null };
}
