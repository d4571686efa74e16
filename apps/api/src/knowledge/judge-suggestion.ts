import type { NoteLink } from '#contract/knowledge';
import { Problem } from '#contract/problem';
import { type Actor, record } from '../platform/audit.js';
import type { Tx } from '../platform/work.js';
import { findLink, listLinks, setLinkConfirmed, unlinkNote } from './note-links.store.js';

/** A person says that the suggested note fits. Confirming twice changes nothing. */
export async function confirmSuggestion(tx: Tx, actor: Actor & { userId: number }, linkId: number): Promise<NoteLink> {
  const before = await findLink(tx, actor.plantId, linkId);
  await setLinkConfirmed(tx, actor.plantId, linkId, actor.userId);
  const [after] = await listLinks(tx, actor.plantId, { linkId });
  if (!after) throw new Problem('not-found');
  if (before.confirmedBy === null) await record(tx, actor, 'note.confirmed', `note ${before.noteId}`, { before, after });
  return after;
}

/** Takes a citation away, or remembers that a suggestion was rejected: it is not made again, and counts in later rankings. */
export async function rejectLink(tx: Tx, actor: Actor & { userId: number }, linkId: number): Promise<void> {
  const before = await unlinkNote(tx, actor.plantId, linkId, actor.userId);
  await record(tx, actor, before.confirmedBy === null ? 'note.rejected' : 'note.unlinked', `note ${before.noteId}`, { before });
}
