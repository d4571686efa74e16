import type { InputOf } from '#contract/endpoint';
import type { addNoteLink, createNote } from '#contract/knowledge';
import { type Actor, record } from '../platform/audit.js';
import type { Tx } from '../platform/work.js';
import { type LinkTarget, linkNote } from './note-links.store.js';
import { insertNote } from './notes.store.js';

type Person = Actor & { userId: number };

/** Writes a note and, in the same transaction, cites what it was written from. */
export async function writeNote(tx: Tx, actor: Person, { signalId, incidentId, ...texts }: InputOf<typeof createNote>['body'], now: Date): Promise<number> {
  const id = await insertNote(tx, actor, texts, now);
  for (const target of [{ signalId }, { incidentId }]) {
    if (Object.values(target)[0] !== undefined) await addCitation(tx, actor, id, { ...target, reason: 'the note was written from it' });
  }
  return id;
}

export async function addCitation(tx: Tx, actor: Person, noteId: number, { signalId, incidentId, reason }: LinkTarget & Pick<InputOf<typeof addNoteLink>['body'], 'reason'>): Promise<void> {
  const linkId = await linkNote(tx, actor.plantId, { noteId, signalId, incidentId, reason, confirmedBy: actor.userId });
  await record(tx, actor, 'note.linked', `note ${noteId}`, { after: { linkId, signalId, incidentId, reason } });
}
