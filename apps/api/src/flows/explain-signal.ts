import type { NoteLink } from '#contract/knowledge';
import { Problem } from '#contract/problem';
import type { Role } from '#contract/roles';
import type { SignalPage, SignalState } from '#contract/signals';
import { rejectLink } from '../knowledge/judge-suggestion.js';
import { findLink, listLinks } from '../knowledge/note-links.store.js';
import { addCitation } from '../knowledge/write-note.js';
import type { Actor } from '../platform/audit.js';
import { announce } from '../platform/outbox.js';
import type { Tx } from '../platform/work.js';
import { findSignalRow, insertStep, lockSignal } from '../signals/signal-pages.store.js';
import { listEventsNear, listIncidentsOf, listSteps } from '../signals/signal-page.store.js';
import { stepSignal } from '../signals/step-signal.js';
import { suspectWindow, windowSpan } from '../signals/suspect-window.js';
import { findWindowFacts, type Likeness, listCountBuckets, listLikes } from '../signals/suspect-window.store.js';

type Person = Actor & { userId: number };
/** How far before the window a change on the line is still worth a look: half a shift. */
const LOOK_BACK_MS = 4 * 3_600_000;

/** Everything that a person needs to judge one signal. */
export async function signalPage(tx: Tx, plantId: number, id: number, now: Date): Promise<SignalPage> {
  const signal = await findSignalRow(tx, plantId, id, now);
  const facts = await findWindowFacts(tx, plantId, id, now);
  const span = windowSpan(facts, new Date(signal.firstAt), new Date(signal.lastAt), now);
  const eventsFrom = new Date(span.countFrom.getTime() - LOOK_BACK_MS);
  const [buckets, likes, events, steps, notes, incidents] = await Promise.all([
    listCountBuckets(tx, plantId, signal.stream.machine.id, span.countFrom, span.until),
    listLikes(tx, plantId, id, span.countFrom, span.until),
    listEventsNear(tx, plantId, signal.stream.line.id, eventsFrom, span.until, new Date(signal.firstAt)),
    listSteps(tx, plantId, id), listLinks(tx, plantId, { signalId: id }), listIncidentsOf(tx, plantId, id),
  ]);
  return {
    signal, window: suspectWindow(span, buckets, facts), eventsFrom: eventsFrom.toISOString(), events, steps, notes, incidents,
    units: howMany(likes, 'unit'), lanes: howMany(likes, 'lane'), machines: howMany(likes, 'machine'),
  };
}

const howMany = (likes: readonly Likeness[], kind: Likeness['kind']) => {
  const alike = likes.filter((entry) => entry.kind === kind);
  return { of: alike.length, signalled: alike.filter(({ signalled }) => signalled).map(({ code }) => code) };
};

/** Assigns the cause in words and, where a root-cause note says it, lets that note cite the signal: both or neither. */
export async function assignCause(tx: Tx, actor: Person, role: Role, id: number, given: { state: SignalState; cause: string; noteId?: number }, now: Date): Promise<void> {
  await stepSignal(tx, actor, role, id, 'assign-cause', { seen: given.state, text: given.cause }, now);
  if (given.noteId !== undefined) await linkNoteToSignal(tx, actor, id, given.noteId, 'named as the cause', now);
}

export async function linkNoteToSignal(tx: Tx, actor: Person, id: number, noteId: number, reason: string, now: Date): Promise<void> {
  await lockSignal(tx, actor.plantId, id);
  await addCitation(tx, actor, noteId, { signalId: id, reason });
  await leaveTrace(tx, actor, id, 'note-linked', noteId, now);
}

export async function unlinkNoteFromSignal(tx: Tx, actor: Person, id: number, linkId: number, now: Date): Promise<void> {
  await lockSignal(tx, actor.plantId, id);
  const link = await findLink(tx, actor.plantId, linkId);
  if (link.signalId !== id) throw new Problem('not-found', `Signal ${id} has no link ${linkId} of a note.`);
  await rejectLink(tx, actor, linkId);
  await leaveTrace(tx, actor, id, link.confirmedBy === null ? 'note-rejected' : 'note-unlinked', link.noteId, now);
}

export const notesOfSignal = (tx: Tx, plantId: number, id: number): Promise<NoteLink[]> => listLinks(tx, plantId, { signalId: id });

async function leaveTrace(tx: Tx, actor: Person, signalId: number, action: string, noteId: number, now: Date): Promise<void> {
  await insertStep(tx, actor, signalId, action, now, `${noteId}`);
  await announce(tx, actor.plantId, [{ kind: 'signal.changed', payload: { signalId, change: action } }]);
}
