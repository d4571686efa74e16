import { type KeptVerification, verificationAnswer, type VerificationAnswer, type VerificationAsked } from '#contract/incident-shapes';
import { Problem } from '#contract/problem';
import { type Actor, record } from '../platform/audit.js';
import { announce } from '../platform/outbox.js';
import { version } from '../platform/version.js';
import type { Tx } from '../platform/work.js';
import { compareEffect, effectValues } from './compare-effect.js';
import { findEffectStream, listEffectSubgroups, listOtherEvents, MOST_SUBGROUPS } from './effect-readings.store.js';
import { listIncidentRows } from './incident-rows.store.js';
import { insertStep, lockIncident } from './incidents.store.js';
import { insertVerification, listVerifications } from './verifications.store.js';

// What is nearest to the change says most; the rest is counted.
const EVENTS_SHOWN = 40;

/** Compares the readings of a stream before and after a change, as they are on record now. Stores nothing. */
export async function verifyEffect(tx: Tx, plantId: number, asked: VerificationAsked): Promise<VerificationAnswer> {
  const span = ({ from, to }: { from: string; to: string }) => ({ from: new Date(from), to: new Date(to) });
  const subject = await findEffectStream(tx, plantId, asked.streamId, new Date(asked.after.to));
  if (!subject) throw new Problem('not-found', `There is no stream ${asked.streamId}.`);
  const { machineId, lineId, chart, ...stream } = subject;
  const [before, all] = [await listEffectSubgroups(tx, plantId, asked.streamId, span(asked.before)), await listEffectSubgroups(tx, plantId, asked.streamId, span(asked.after))];
  // A check at the very moment where both spans meet is of the time before.
  const after = all.filter(({ at }) => at > new Date(asked.before.to));
  for (const [field, side] of [['before', before], ['after', after]] as const) {
    if (side.length > MOST_SUBGROUPS) throw new Problem('cannot-compute', 'The span is too long.', [{ field, expected: `at most ${MOST_SUBGROUPS} subgroups` }]);
    const found = effectValues(side, asked.basis).length;
    if (found < 2) throw new Problem('too-little-data', 'There are too few readings for a comparison.', [{ field, expected: `a span with at least 2 values of this stream, ${found} found` }]);
  }
  if (new Set([...before, ...after].map(({ formula }) => formula)).size > 1) throw new Problem('cannot-compute', 'The readings of the two spans were computed by different formula versions and cannot be compared.', [{ field: 'after', expected: 'a span with the formula version of the span before' }]);
  const events = await listOtherEvents(tx, plantId, { machineId, lineId }, { from: new Date(asked.before.from), to: new Date(asked.after.to) }, asked.eventId);
  const change = Date.parse(asked.changedAt);
  const nearest = [...events].sort((a, b) => Math.abs(Date.parse(a.at) - change) - Math.abs(Date.parse(b.at) - change)).slice(0, EVENTS_SHOWN).sort((a, b) => Date.parse(a.at) - Date.parse(b.at));
  return verificationAnswer.parse({ stream, ...compareEffect(before, after, asked, chart, events.length), otherEvents: nearest, otherEventsLeftOut: events.length - nearest.length });
}

/** The same for an incident that exists. */
export async function previewVerification(tx: Tx, plantId: number, incidentId: number, asked: VerificationAsked): Promise<VerificationAnswer> {
  const [incident] = await listIncidentRows(tx, plantId, { take: 1, skip: 0 }, incidentId);
  if (!incident) throw new Problem('not-found', `There is no incident ${incidentId}.`);
  return verifyEffect(tx, plantId, asked);
}

/** The same, kept with the incident for good. Whether it shows the effect is for a person to say, as a step of its own. */
export async function keepVerification(tx: Tx, actor: Actor & { userId: number }, incidentId: number, asked: VerificationAsked, now: Date): Promise<KeptVerification> {
  const { plantId } = actor;
  const incident = await lockIncident(tx, plantId, incidentId);
  if (incident.state === 'closed') throw new Problem('wrong-state', 'The incident is closed: open it again first, with the reason.');
  const answer = await verifyEffect(tx, plantId, asked);
  const id = await insertVerification(tx, plantId, { incidentId, asked, answer, version, authorId: actor.userId, createdAt: now });
  await insertStep(tx, actor, incidentId, 'verification-kept', now, `${id}: ${answer.stream.characteristic}, ${answer.stream.machine}`);
  await record(tx, actor, 'incident.verification-kept', `incident ${incidentId}`, { after: { verificationId: id, asked, cautions: answer.cautions } });
  await announce(tx, plantId, [{ kind: 'incident.changed', payload: { incidentId, change: 'verification-kept' } }]);
  const kept = (await listVerifications(tx, plantId, incidentId)).find((one) => one.id === id);
  if (!kept) throw new Problem('not-found', `There is no comparison ${id}.`);
  return kept;
}
