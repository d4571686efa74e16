import { canCode } from '../../../../../seed/can-code.js';
import type { Calendar } from '../../../../../seed/calendar.js';
import type { SeedIncident } from '../../../../../seed/incident-types.js';
import type { SeedNote } from '../../../../../seed/note-types.js';
import type { Tx } from '../../platform/work.js';
import { type DemoIds, need } from './demo-master.store.js';

type SeedSynonyms = { preferred: string; others: readonly string[]; author: string };
export type DemoKnowledge = { notes: Map<string, number>; incidents: Map<string, number> };

/** Words that mean the same here, as if they had been added a month ago. */
export async function insertDemoSynonyms(tx: Tx, ids: DemoIds, groups: readonly SeedSynonyms[], endsAt: Date, names: ReadonlyMap<string, string>): Promise<void> {
  const at = new Date(endsAt.getTime() - 30 * 86_400_000);
  for (const { preferred, others, author } of groups) {
    const { id } = await tx.synonymGroup.create({ data: { plantId: ids.plantId, preferred, others: [...others], authorId: need(ids.users, author), createdAt: at, changedAt: at }, select: { id: true } });
    await tx.synonymRevision.create({ data: { plantId: ids.plantId, groupId: id, revision: 1, preferred, others: [...others], retired: false, author: names.get(author) ?? author, reason: 'said so at the line', at } });
  }
}

/** Root-cause notes and incidents, with the links between them and the life of each incident. */
export async function insertDemoKnowledge(tx: Tx, ids: DemoIds, notes: readonly SeedNote[], incidents: readonly SeedIncident[], calendar: Calendar, timeZone: string, endsAt: Date, names: ReadonlyMap<string, string>): Promise<DemoKnowledge> {
  const { plantId } = ids;
  const known: DemoKnowledge = { notes: new Map(), incidents: new Map() };
  for (const { defectCode, machineCode, author, daysAgo, ...note } of notes) {
    const at = new Date(endsAt.getTime() - daysAgo * 86_400_000);
    const row = await tx.note.create({ data: { plantId, ...note, defect: defectCode, machineId: machineCode === null ? null : need(ids.machines, machineCode), authorId: need(ids.users, author), createdAt: at, changedAt: at } });
    known.notes.set(note.title, row.id);
  }
  const printers = await tx.step.findMany({ where: { plantId, kind: 'seamer' }, select: { id: true, lineId: true } });
  for (const incident of incidents) {
    const madeAt = calendar.at(incident.madeAt.day, incident.madeAt.hour);
    const receivedAt = new Date(calendar.at(incident.receivedAt.day, incident.receivedAt.hour));
    const closedAt = incident.closedAt === null ? null : new Date(calendar.at(incident.closedAt.day, incident.closedAt.hour));
    const { kind, state, customer, cansComplained, cansExamined, cansLeaking, leakPlace, description, containment, cause, action, closingNote } = incident;
    const row = await tx.incident.create({ data: {
      plantId, kind, state, customer, cansComplained, cansExamined, cansLeaking, leakPlace, description, containment, cause, action, closingNote,
      productId: need(ids.products, incident.productCode), lineId: need(ids.lines, incident.lineCode), canCode: canCode(incident.lineCode, incident.laneCode, madeAt, timeZone), madeAt: new Date(madeAt),
      ...codedPlace(ids, incident, printers, madeAt),
      receivedAt, defect: incident.defectCode, loggedBy: need(ids.users, incident.loggedBy), loggedAt: receivedAt, closedAt, changedAt: closedAt ?? receivedAt,
    } });
    known.incidents.set(incident.code, row.id);
    const actor = names.get(incident.loggedBy) ?? incident.loggedBy;
    const userId = need(ids.users, incident.loggedBy);
    await tx.incidentStep.createMany({ data: [
      { plantId, incidentId: row.id, at: receivedAt, userId, actor, action: 'logged', comment: null },
      ...(closedAt ? [{ plantId, incidentId: row.id, at: closedAt, userId, actor, action: 'closed', comment: closingNote }] : []),
    ] });
    await tx.noteLink.createMany({ data: incident.noteTitles.map((title) => ({ plantId, noteId: need(known.notes, title), incidentId: row.id, reason: 'linked when the incident was closed', confirmedBy: userId, confirmedAt: closedAt ?? receivedAt, createdAt: closedAt ?? receivedAt })) });
  }
  return known;
}

/** What the code, and a mark on the can, tell beyond line and time. The code names a minute. */
function codedPlace(ids: DemoIds, { lineCode, laneCode, unitCode }: SeedIncident, printers: readonly { id: number; lineId: number }[], madeAt: number) {
  const printer = printers.find(({ lineId }) => lineId === need(ids.lines, lineCode));
  return {
    madeUntil: new Date(madeAt + 60_000), codedAtStepId: printer?.id ?? null, laneId: laneCode === null ? null : need(ids.lanes, `${lineCode}/${laneCode}`),
    unitId: unitCode === null ? null : need(ids.units, `SM${lineCode.slice(1)}/${unitCode}`),
  };
}
