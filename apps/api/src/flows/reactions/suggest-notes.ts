import { linkNote } from '../../knowledge/note-links.store.js';
import type { PastFixes } from '../../knowledge/past-fixes.js';
import { incidentSituation, signalSituation } from '../../knowledge/situations.store.js';
import { suggestNotesFor } from '../../knowledge/suggest.js';
import { type Actor, listAudit, record } from '../../platform/audit.js';
import type { Reaction } from '../../platform/outbox.worker.js';
import type { Work } from '../../platform/work.js';

/**
 * Looks for notes that fit a new signal or a newly logged incident and stores up to five as suggestions; a person confirms
 * or rejects them. Done once for each subject: a repeat changes nothing, and what was rejected does not come back.
 */
export const suggestNotes = (work: Work, pastFixes: PastFixes): Reaction => async ({ plantId, payload }) => {
  const { signalId, incidentId } = payload;
  const target = typeof signalId === 'number' ? { signalId } : typeof incidentId === 'number' && payload['change'] === 'logged' ? { incidentId } : null;
  if (!target) return;
  const known = target.signalId === undefined ? await incidentSituation(work.read, plantId, target.incidentId) : await signalSituation(work.read, plantId, target.signalId);
  if (!known) return;
  await pastFixes.refresh(plantId);
  const suggestions = suggestNotesFor(await pastFixes.indexOf(plantId), known.situation, known.feedback);
  const actor: Actor = { plantId, userId: null, name: 'note search' };
  const subject = target.signalId === undefined ? `suggestions for incident ${target.incidentId}` : `suggestions for signal ${target.signalId}`;
  await work.run(async (tx) => {
    if ((await listAudit(tx, plantId, { subject, take: 1 })).length > 0) return;
    for (const { noteId, score, reasons } of suggestions) await linkNote(tx, plantId, { ...target, noteId, score, reasons, confirmedBy: null });
    await record(tx, actor, 'notes.suggested', subject, { after: suggestions });
  });
};
