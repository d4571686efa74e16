import type { InputOf } from '#contract/endpoint';
import { type IncidentReply, type ReplyLanguage, replyLanguage, type saveIncidentReply } from '#contract/incident-life';
import { Problem } from '#contract/problem';
import { type Actor, record } from '../platform/audit.js';
import { announce } from '../platform/outbox.js';
import type { Tx } from '../platform/work.js';
import { draftReply, openPlaces, type ReplyFacts, replyWords } from './draft-reply.js';
import { incidentView } from './incident.view.js';
import { insertStep, lockIncident } from './incidents.store.js';
import { findReplyPlant, insertReply, listReplies } from './replies.store.js';

type Facts = Omit<ReplyFacts, 'language'>;

async function readFacts(tx: Tx, plantId: number, incidentId: number, writtenAt: Date): Promise<Facts> {
  const incident = await incidentView(tx, plantId, incidentId);
  const { name, timeZone } = await findReplyPlant(tx, plantId);
  return { plant: name, timeZone, writtenAt, incident };
}

/** The draft as the facts are now, beside every version that people wrote. */
export async function replyView(tx: Tx, plantId: number, incidentId: number, asked: ReplyLanguage | undefined, now: Date): Promise<IncidentReply> {
  const facts = await readFacts(tx, plantId, incidentId, now);
  const versions = await listReplies(tx, plantId, incidentId);
  const language = asked ?? versions[0]?.language ?? 'en';
  const { customer, state } = facts.incident;
  const { caution, cautionTitle, notCounting } = replyWords[language];
  return { incidentId, customer, plant: facts.plant, state, language, draft: draftReply({ ...facts, language }), caution, cautionTitle, notCounting, versions };
}

/** A new version beside the old ones. It counts only when a person edited it and left no place open. */
export async function saveReply(tx: Tx, actor: Actor & { userId: number }, incidentId: number, { seen, text, counts, language }: InputOf<typeof saveIncidentReply>['body'], now: Date): Promise<IncidentReply['versions'][number]> {
  const { plantId } = actor;
  await lockIncident(tx, plantId, incidentId);
  const newest = (await listReplies(tx, plantId, incidentId))[0]?.version ?? 0;
  if (newest !== seen) throw new Problem('changed-meanwhile', `Version ${newest} of the answer was saved meanwhile: read it and put your change into it.`);
  const open = openPlaces(text);
  if (counts && open.length > 0) throw new Problem('invalid-input', undefined, [{ field: 'text', expected: `no open place in square brackets; still open: ${open.slice(0, 5).join(' ')}` }]);
  const facts = counts ? await readFacts(tx, plantId, incidentId, now) : null;
  if (facts && replyLanguage.options.some((each) => draftReply({ ...facts, language: each }) === text)) throw new Problem('invalid-input', undefined, [{ field: 'text', expected: 'a text that a person has edited, not the draft as it is' }]);
  await insertReply(tx, plantId, { incidentId, version: newest + 1, text, language, counts, authorId: actor.userId, createdAt: now });
  await insertStep(tx, actor, incidentId, counts ? 'reply-counts' : 'reply-saved', now, `${newest + 1}`);
  await record(tx, actor, 'incident.reply-saved', `incident ${incidentId}`, { after: { version: newest + 1, language, counts, text } });
  await announce(tx, plantId, [{ kind: 'incident.changed', payload: { incidentId, change: 'reply-saved' } }]);
  const [saved] = await listReplies(tx, plantId, incidentId);
  if (!saved) throw new Problem('not-found', `There is no answer of incident ${incidentId}.`);
  return saved;
}
