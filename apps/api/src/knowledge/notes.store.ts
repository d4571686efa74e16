import { isStepKind, stepKinds } from '#canmaking/line/steps';
import { findDefect } from '#canmaking/defects/taxonomy';
import type { Note, NoteTexts } from '#contract/knowledge';
import { type FieldError, Problem } from '#contract/problem';
import type { Actor } from '../platform/audit.js';
import { record } from '../platform/audit.js';
import type { Tx } from '../platform/work.js';
import { countHelped, listLinks } from './note-links.store.js';

/** The note as its page shows it. */
export async function findNote(tx: Tx, plantId: number, id: number): Promise<Note> {
  const [row] = await tx.$queryRaw<(NoteTexts & { id: number; machine: string | null; author: string; createdAt: Date; changedAt: Date; revision: number })[]>`
    SELECT n.id, n.title, n.symptom, n.place, n.cause, n.how_to_check AS "howToCheck", n.fix, n.verified, n.defect, n.step_kind AS "stepKind", n.machine_id AS "machineId", m.code AS machine,
      coalesce(u.name, '') AS author, n.created_at AS "createdAt", n.changed_at AS "changedAt", n.revision
    FROM note n LEFT JOIN machine m ON m.plant_id = n.plant_id AND m.id = n.machine_id LEFT JOIN "user" u ON u.plant_id = n.plant_id AND u.id = n.author_id
    WHERE n.plant_id = ${plantId} AND n.id = ${id}`;
  if (!row) throw new Problem('not-found', `There is no note ${id}.`);
  return {
    ...row, defectName: findDefect(row.defect)?.name ?? row.defect, createdAt: row.createdAt.toISOString(), changedAt: row.changedAt.toISOString(),
    links: await listLinks(tx, plantId, { noteId: id }), helped: await countHelped(tx, plantId, id),
  };
}

export async function insertNote(tx: Tx, actor: Actor & { userId: number }, note: NoteTexts, now: Date): Promise<number> {
  await requireKnown(tx, actor.plantId, note);
  const row = await tx.note.create({ data: { ...note, plantId: actor.plantId, authorId: actor.userId, createdAt: now, changedAt: now }, select: { id: true } });
  await record(tx, actor, 'note.written', `note ${row.id}`, { after: note });
  return row.id;
}

/** Writes the next revision; refused when another one was written since the reader's. The old texts go into the audit row. */
export async function setNote(tx: Tx, actor: Actor, id: number, revision: number, note: NoteTexts, now: Date): Promise<void> {
  await requireKnown(tx, actor.plantId, note);
  const { title, symptom, place, cause, howToCheck, fix, verified, defect, stepKind, machineId } = await findNote(tx, actor.plantId, id);
  const { count } = await tx.note.updateMany({ where: { plantId: actor.plantId, id, revision }, data: { ...note, changedAt: now, revision: revision + 1 } });
  if (count === 0) throw new Problem('changed-meanwhile', 'Load the note again and put your change into the newest text.');
  await record(tx, actor, 'note.revised', `note ${id}`, { before: { title, symptom, place, cause, howToCheck, fix, verified, defect, stepKind, machineId }, after: note });
}

async function requireKnown(tx: Tx, plantId: number, note: NoteTexts): Promise<void> {
  const errors: FieldError[] = [];
  if (!findDefect(note.defect)) errors.push({ field: 'defect', expected: 'a code of the defect taxonomy' });
  if (!isStepKind(note.stepKind)) errors.push({ field: 'stepKind', expected: `one of ${stepKinds.join(', ')}` });
  if (note.machineId !== null) {
    const machine = await tx.machine.findUnique({ where: { plantId_id: { plantId, id: note.machineId } }, select: { step: { select: { kind: true } } } });
    if (!machine) errors.push({ field: 'machineId', expected: 'a machine of this plant' });
    else if (machine.step.kind !== note.stepKind) errors.push({ field: 'machineId', expected: `a machine of the step ${note.stepKind}` });
  }
  if (errors.length > 0) throw new Problem('invalid-input', undefined, errors);
}
