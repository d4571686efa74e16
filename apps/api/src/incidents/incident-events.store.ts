import type { IncidentEvent } from '#contract/incident-shapes';
import { Problem } from '#contract/problem';
import type { Actor } from '../platform/audit.js';
import type { Tx } from '../platform/work.js';

/** True when it was not linked before. */
export async function insertIncidentEvent(tx: Tx, actor: Actor & { userId: number }, incidentId: number, eventId: number, reason: string): Promise<boolean> {
  const { plantId } = actor;
  if ((await tx.lineEvent.count({ where: { plantId, id: eventId } })) === 0) throw new Problem('not-found', `There is no line event ${eventId}.`);
  const { count } = await tx.incidentEvent.createMany({ data: { plantId, incidentId, eventId, linkedBy: actor.userId, reason }, skipDuplicates: true });
  return count > 0;
}

export async function deleteIncidentEvent(tx: Tx, plantId: number, incidentId: number, eventId: number): Promise<void> {
  const { count } = await tx.incidentEvent.deleteMany({ where: { plantId, incidentId, eventId } });
  if (count === 0) throw new Problem('not-found', `Line event ${eventId} is not linked to incident ${incidentId}.`);
}

export async function listLinkedEvents(tx: Tx, plantId: number, incidentId: number): Promise<IncidentEvent[]> {
  const rows = await tx.$queryRaw<(Omit<IncidentEvent, 'at' | 'until'> & { at: Date; until: Date | null })[]>`
    SELECT e.id, e.at, e.until, e.kind, m.code AS machine, e.text, e.actor, k.reason, coalesce(u.name, '') AS "linkedBy"
    FROM incident_event k JOIN line_event e ON e.plant_id = k.plant_id AND e.id = k.event_id LEFT JOIN machine m ON m.plant_id = e.plant_id AND m.id = e.machine_id
    LEFT JOIN "user" u ON u.plant_id = k.plant_id AND u.id = k.linked_by
    WHERE k.plant_id = ${plantId} AND k.incident_id = ${incidentId} ORDER BY e.at, e.id`;
  return rows.map((row) => ({ ...row, at: row.at.toISOString(), until: row.until?.toISOString() ?? null }));
}
