import type { SeedIncident } from '../../../../../seed/incident-types.js';
import type { SimulatedFault } from '../../../../../seed/simulated.js';
import type { Tx } from '../../platform/work.js';
import type { DemoKnowledge } from './demo-knowledge.store.js';
import { type DemoIds, need } from './demo-master.store.js';

type Row = { id: number; fired_at: Date; last_at: Date; machine: string; unit: string | null; lane: string | null; characteristic: string };
const DAY = 86_400_000;

/** Lives through the ninety days for the people of the demo plant: what they looked at, found and closed, and what is still open today. */
export async function settleDemoSignals(tx: Tx, ids: DemoIds, faults: readonly SimulatedFault[], incidents: readonly SeedIncident[], known: DemoKnowledge, people: { technician: { id: number; name: string }; engineer: { id: number; name: string } }, endsAt: Date): Promise<{ open: number[] }> {
  const { plantId } = ids;
  const rows = await tx.$queryRaw<Row[]>`
    SELECT g.id, g.fired_at, g.last_at, m.code AS machine, u.code AS unit, l.code AS lane, c.code AS characteristic FROM signal g
    JOIN stream s ON s.plant_id = g.plant_id AND s.id = g.stream_id JOIN machine m ON m.plant_id = g.plant_id AND m.id = s.machine_id JOIN characteristic c ON c.plant_id = g.plant_id AND c.id = s.characteristic_id
    LEFT JOIN unit u ON u.plant_id = g.plant_id AND u.id = s.unit_id LEFT JOIN lane l ON l.plant_id = g.plant_id AND l.id = s.lane_id WHERE g.plant_id = ${plantId} ORDER BY g.id`;
  const settled: { id: number; state: string; cause: string | null; closedAt: string | null }[] = [];
  const steps: { signalId: number; at: string; userId: number; actor: string; action: string; comment: string | null }[] = [];
  const links: { noteId: number; signalId: number; at: string }[] = [];
  const cited: { incidentId: number; signalId: number }[] = [];
  const open: number[] = [];
  const say = (signalId: number, at: number, who: { id: number; name: string }, action: string, comment: string | null) => steps.push({ signalId, at: new Date(at).toISOString(), userId: who.id, actor: who.name, action, comment });
  for (const row of rows) {
    const fired = row.fired_at.getTime();
    const fault = faults.find((entry) => causes(entry, row));
    if (fault) {
      const incident = incidents.find((entry) => entry.code === fault.complaintIncident);
      if (incident) cited.push({ incidentId: need(known.incidents, incident.code), signalId: row.id });
      if (fault.endsAt === null) { open.push(row.id); continue; }
      const closedAt = Math.max(fault.endsAt, row.last_at.getTime()) + DAY / 4;
      say(row.id, fired + 3_000_000, people.technician, 'acknowledged', null);
      say(row.id, closedAt - DAY / 8, people.engineer, 'cause-assigned', fault.trueCause);
      say(row.id, closedAt, people.engineer, 'closed', 'The checks since the repair are steady.');
      settled.push({ id: row.id, state: 'closed', cause: fault.trueCause, closedAt: new Date(closedAt).toISOString() });
      for (const title of incident?.noteTitles ?? []) links.push({ noteId: need(known.notes, title), signalId: row.id, at: new Date(closedAt).toISOString() });
      continue;
    }
    const age = endsAt.getTime() - row.last_at.getTime();
    if (age < DAY * 0.1) { open.push(row.id); continue; }
    say(row.id, fired + 2_400_000, people.technician, 'acknowledged', null);
    if (age < DAY * 0.3) { settled.push({ id: row.id, state: 'acknowledged', cause: null, closedAt: null }); continue; }
    const closedAt = Math.min(row.last_at.getTime() + DAY, endsAt.getTime() - 600_000);
    say(row.id, closedAt, people.engineer, 'closed', 'Machine and gauge looked at, nothing had changed; the next checks were steady.');
    settled.push({ id: row.id, state: 'closed', cause: null, closedAt: new Date(closedAt).toISOString() });
  }
  await tx.$executeRaw`UPDATE signal s SET state = g.state, cause = g.cause, closed_at = g."closedAt" FROM jsonb_to_recordset(${JSON.stringify(settled)}::jsonb) AS g(id int, state text, cause text, "closedAt" timestamptz) WHERE s.plant_id = ${plantId} AND s.id = g.id`;
  await tx.$executeRaw`UPDATE signal SET raised_at = fired_at + interval '20 minutes' WHERE plant_id = ${plantId}`;
  await tx.$executeRaw`UPDATE signal_step t SET at = s.raised_at FROM signal s WHERE t.plant_id = ${plantId} AND s.plant_id = t.plant_id AND s.id = t.signal_id AND t.action = 'raised'`;
  await tx.$executeRaw`INSERT INTO signal_step (plant_id, signal_id, at, user_id, actor, action, comment) SELECT ${plantId}, t."signalId", t.at, t."userId", t.actor, t.action, t.comment FROM jsonb_to_recordset(${JSON.stringify(steps)}::jsonb) AS t("signalId" int, at timestamptz, "userId" int, actor text, action text, comment text)`;
  await tx.$executeRaw`INSERT INTO note_link (plant_id, note_id, signal_id, reason, confirmed_by, confirmed_at, created_at) SELECT ${plantId}, l."noteId", l."signalId", 'linked when the signal was closed', ${people.engineer.id}, l.at, l.at FROM jsonb_to_recordset(${JSON.stringify(links)}::jsonb) AS l("noteId" int, "signalId" int, at timestamptz) ON CONFLICT DO NOTHING`;
  await tx.$executeRaw`INSERT INTO incident_signal (plant_id, incident_id, signal_id, linked_by) SELECT ${plantId}, l."incidentId", l."signalId", ${people.engineer.id} FROM jsonb_to_recordset(${JSON.stringify(cited)}::jsonb) AS l("incidentId" int, "signalId" int) ON CONFLICT DO NOTHING`;
  return { open };
}

function causes(fault: SimulatedFault, row: Row): boolean {
  const until = fault.endsAt === null ? Number.POSITIVE_INFINITY : fault.endsAt + DAY / 2;
  return fault.machineCode === row.machine && (fault.characteristicCodes.includes(row.characteristic) || fault.derivedCodes.includes(row.characteristic))
    && (!fault.unitCodes || (row.unit !== null && fault.unitCodes.includes(row.unit))) && (!fault.laneCode || fault.laneCode === row.lane)
    && row.fired_at.getTime() >= fault.beginsAt && row.fired_at.getTime() <= until;
}
