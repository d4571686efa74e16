import { upperBoundZeroFound } from '#statistics/sampling/zero-found';
import { whys } from '#contract/incident-shapes';
import type { Incident, IncidentSignal } from '#contract/incidents';
import { type NoteLink, noteReason } from '#contract/knowledge';
import { Problem } from '#contract/problem';
import type { Tx } from '../platform/work.js';
import { listLinkedEvents } from './incident-events.store.js';
import { defectName, listIncidentRows } from './incident-rows.store.js';
import { listPhotos } from './photos.store.js';
import { listReplies } from './replies.store.js';
import { listVerifications } from './verifications.store.js';

/** The whole incident as its page shows it. */
export async function incidentView(tx: Tx, plantId: number, id: number): Promise<Incident> {
  const [row] = await listIncidentRows(tx, plantId, { take: 1, skip: 0 }, id);
  if (!row) throw new Problem('not-found', `There is no incident ${id}.`);
  const [texts] = await tx.$queryRaw<{ containment: string; cause: string; action: string; closingNote: string; loggedBy: string; loggedAt: Date; causeMachine: Incident['causeMachine']; whys: unknown; verificationId: number | null; verdict: string; closedWithout: string }[]>`
    SELECT i.containment, i.cause, i.action, i.closing_note AS "closingNote", coalesce(u.name, '') AS "loggedBy", i.logged_at AS "loggedAt", i.whys, i.verification_id AS "verificationId", i.verdict, i.closed_without AS "closedWithout",
      CASE WHEN m.id IS NULL THEN NULL ELSE jsonb_build_object('id', m.id, 'code', m.code, 'name', m.name) END AS "causeMachine"
    FROM incident i LEFT JOIN machine m ON m.plant_id = i.plant_id AND m.id = i.cause_machine_id LEFT JOIN "user" u ON u.plant_id = i.plant_id AND u.id = i.logged_by WHERE i.plant_id = ${plantId} AND i.id = ${id}`;
  if (!texts) throw new Problem('not-found', `There is no incident ${id}.`);
  const steps = await tx.incidentStep.findMany({ where: { plantId, incidentId: id }, orderBy: [{ at: 'asc' }, { id: 'asc' }], select: { id: true, at: true, actor: true, action: true, comment: true, state: true, evidence: true, dueAt: true } });
  const [reply] = await listReplies(tx, plantId, id);
  return {
    ...row, ...texts, loggedAt: texts.loggedAt.toISOString(), whys: whys.parse(texts.whys),
    zeroFoundUpperBound: row.cansExamined > 0 && row.cansLeaking === 0 ? upperBoundZeroFound(row.cansExamined) : null,
    steps: steps.map((step) => ({ ...step, at: step.at.toISOString(), dueAt: step.dueAt?.toISOString() ?? null })),
    eventList: await listLinkedEvents(tx, plantId, id), verifications: await listVerifications(tx, plantId, id),
    reply: reply ? { version: reply.version, counts: reply.counts, author: reply.author, createdAt: reply.createdAt } : null,
    photoList: await listPhotos(tx, plantId, id), signalList: await listLinkedSignals(tx, plantId, id), notes: await listNotes(tx, plantId, id),
  };
}

async function listLinkedSignals(tx: Tx, plantId: number, incidentId: number): Promise<IncidentSignal[]> {
  const rows = await tx.$queryRaw<(Omit<IncidentSignal, 'firedAt' | 'lastAt'> & { firedAt: Date; lastAt: Date })[]>`
    SELECT g.id, g.chart, g.rule, g.side, g.state, g.fired_at AS "firedAt", g.last_at AS "lastAt", c.name AS "characteristicName", m.code AS machine, m.name AS "machineName", u.code AS "machineUnit", la.code AS lane, k.reason
    FROM incident_signal k JOIN signal g ON g.plant_id = k.plant_id AND g.id = k.signal_id
    JOIN stream s ON s.plant_id = g.plant_id AND s.id = g.stream_id JOIN characteristic c ON c.plant_id = s.plant_id AND c.id = s.characteristic_id
    JOIN machine m ON m.plant_id = s.plant_id AND m.id = s.machine_id LEFT JOIN unit u ON u.plant_id = s.plant_id AND u.id = s.unit_id LEFT JOIN lane la ON la.plant_id = s.plant_id AND la.id = s.lane_id
    WHERE k.plant_id = ${plantId} AND k.incident_id = ${incidentId} ORDER BY g.fired_at, g.id`;
  return rows.map((row) => ({ ...row, firedAt: row.firedAt.toISOString(), lastAt: row.lastAt.toISOString() }));
}

async function listNotes(tx: Tx, plantId: number, incidentId: number): Promise<NoteLink[]> {
  const rows = await tx.$queryRaw<{ id: number; noteId: number; noteTitle: string; noteFix: string; defect: string; customer: string; score: number | null; reason: string; reasons: unknown; confirmedBy: string | null; confirmedAt: Date | null }[]>`
    SELECT k.id, n.id AS "noteId", n.title AS "noteTitle", n.fix AS "noteFix", i.defect, i.customer, k.score, k.reason, k.reasons, u.name AS "confirmedBy", k.confirmed_at AS "confirmedAt"
    FROM note_link k JOIN note n ON n.plant_id = k.plant_id AND n.id = k.note_id JOIN incident i ON i.plant_id = k.plant_id AND i.id = k.incident_id
    LEFT JOIN "user" u ON u.plant_id = k.plant_id AND u.id = k.confirmed_by
    WHERE k.plant_id = ${plantId} AND k.incident_id = ${incidentId} AND k.rejected_by IS NULL ORDER BY (k.confirmed_by IS NULL), k.score DESC NULLS LAST, k.id`;
  return rows.map(({ defect, customer, confirmedAt, reasons, ...row }) => ({ ...row, reasons: noteReason.array().parse(reasons), signalId: null, incidentId, about: `${defectName(defect)}, ${customer}`, confirmedAt: confirmedAt?.toISOString() ?? null }));
}
