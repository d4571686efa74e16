import { findDefect } from '#canmaking/defects/taxonomy';
import type { SignalPage } from '#contract/signals';
import type { Tx } from '../platform/work.js';

/** What was done with a signal, first step first. */
export async function listSteps(tx: Tx, plantId: number, signalId: number): Promise<SignalPage['steps']> {
  const rows = await tx.signalStep.findMany({ where: { plantId, signalId }, select: { id: true, at: true, actor: true, action: true, comment: true }, orderBy: [{ at: 'asc' }, { id: 'asc' }] });
  return rows.map((row) => ({ ...row, at: row.at.toISOString() }));
}

/** Events of the signal's line that touch the span; of very many, the hundred nearest to the first point of the pattern. In order of time. */
export async function listEventsNear(tx: Tx, plantId: number, lineId: number, from: Date, until: Date, near: Date): Promise<SignalPage['events']> {
  const rows = await tx.$queryRaw<(Omit<SignalPage['events'][number], 'at' | 'until' | 'enteredAt'> & { at: Date; until: Date | null; enteredAt: Date })[]>`
    SELECT * FROM (
      SELECT e.id, e.line_id AS "lineId", l.code AS line, e.machine_id AS "machineId", m.code AS machine, e.kind, e.at, e.until, e.text, e.actor, e.entered_at AS "enteredAt"
      FROM line_event e JOIN line l ON l.plant_id = e.plant_id AND l.id = e.line_id LEFT JOIN machine m ON m.plant_id = e.plant_id AND m.id = e.machine_id
      WHERE e.plant_id = ${plantId} AND e.line_id = ${lineId} AND e.at <= ${until} AND coalesce(e.until, e.at) >= ${from}
      ORDER BY abs(extract(epoch FROM e.at - ${near}::timestamptz)) LIMIT 100) nearest ORDER BY at, id`;
  return rows.map((row) => ({ ...row, at: row.at.toISOString(), until: row.until?.toISOString() ?? null, enteredAt: row.enteredAt.toISOString() }));
}

/** Incidents that a person linked to the signal. */
export async function listIncidentsOf(tx: Tx, plantId: number, signalId: number): Promise<SignalPage['incidents']> {
  const rows = await tx.$queryRaw<{ id: number; kind: string; state: string; customer: string; defect: string; received_at: Date }[]>`
    SELECT i.id, i.kind, i.state, i.customer, i.defect, i.received_at FROM incident_signal k JOIN incident i ON i.plant_id = k.plant_id AND i.id = k.incident_id
    WHERE k.plant_id = ${plantId} AND k.signal_id = ${signalId} ORDER BY i.received_at DESC, i.id DESC`;
  return rows.map(({ received_at, ...row }) => ({ ...row, defect: findDefect(row.defect)?.name ?? row.defect, receivedAt: received_at.toISOString() }));
}
