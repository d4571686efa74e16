import type { CauseCategory, KeptVerification } from '#contract/incident-shapes';
import type { Incident } from '#contract/incidents';

/** Stands below every answer, whatever the text says. */
export const REPLY_CAUTION = 'This answer informs. It releases no product and lifts no hold. What happens to product that is held, delivered or in the market is decided by people: by the plant and the packer, each with its process authority, under the law of the place and by the customer’s specification. Leaking or under-processed cans of low-acid food can cause fatal illness.';

export type ReplyFacts = { plant: string; timeZone: string; writtenAt: Date; incident: Incident };

const CATEGORY: Record<CauseCategory, string> = { plate: 'plate', 'tooling-wear': 'tooling wear', setting: 'setting', 'jam-or-restart': 'jam or restart', maintenance: 'maintenance', handling: 'handling', measurement: 'method of measurement', instruction: 'operator instruction', 'customer-side': 'on the customer’s side', unknown: 'not known' };

/**
 * A first text of the answer to a customer, from what is on record and nothing else. What only a person can say stands
 * in square brackets; a text that still has them does not count as an answer.
 */
export function draftReply({ plant, timeZone, writtenAt, incident }: ReplyFacts): string {
  const day = new Intl.DateTimeFormat('en-GB', { timeZone, dateStyle: 'long' });
  const moment = new Intl.DateTimeFormat('en-GB', { timeZone, dateStyle: 'long', timeStyle: 'short' });
  const { kind, customer, product, productName, line, canCode, madeAt, receivedAt, cansComplained, defectName, leakPlace, description, containment, cause, causeCategory, action, causeMachine, closedWithout, closedAt } = incident;
  const verified = incident.verifications.find(({ id }) => id === incident.verificationId);
  const part = (title: string, ...lines: (string | null)[]) => [title, ...lines.filter((entry) => entry !== null)].join('\n');
  const orOpen = (text: string, open: string) => (text.trim() === '' ? `[${open}]` : text);
  return [
    `${plant}\n${day.format(writtenAt)}`,
    `To: ${customer}\n[name of the person addressed]`,
    `${kind === 'complaint' ? 'Your complaint' : 'A finding of our own about your cans'} of ${day.format(new Date(receivedAt))}: ${defectName}, ${product} ${productName} (our number ${incident.id})`,
    part('What was reported', cansComplained > 0 ? `${cans(cansComplained)}; place of the leak: ${leakPlace}.` : `Place of the fault: ${leakPlace}.`, description),
    part('Which cans', canCode === '' ? 'The code on the cans could not be read.' : `Code on the cans: ${canCode}.`, `Made on line ${line}, ${moment.format(new Date(madeAt))} (${timeZone}), by the code and our records.`),
    part('What we examined', examined(incident)),
    part('What was held back', orOpen(containment, 'what was held back, and where'), 'Holding back is not a decision about the product: see the note below.'),
    part('Cause', orOpen(cause, 'the cause, or that it is not known yet'), causeCategory === null ? null : `Kind of cause: ${CATEGORY[causeCategory]}${causeMachine === null ? '' : `, at ${causeMachine.code} ${causeMachine.name}`}.`),
    part('What we did', orOpen(action, 'what was done, by when, or what will be done')),
    part('How the effect was verified', verified ? verification(verified, incident.verdict) : closedAt !== null && closedWithout !== '' ? `The effect was not verified by a comparison of measurements. ${closedWithout}` : 'The effect has not been verified yet. [when it will be]'),
    'What we ask of you\n[what the customer is asked to do, and to send us]',
    '[name, position and signature of the person who answers for this letter]',
  ].join('\n\n');
}

const cans = (count: number): string => (count === 1 ? '1 can complained of' : `${count} cans complained of`);
const percent = (share: number, digits: number): string => `${(100 * share).toFixed(digits)} %`;

/** None found is not none there: the bound that n cans allow belongs to the number. */
function examined({ cansExamined, cansLeaking, zeroFoundUpperBound }: Incident): string {
  if (cansExamined === 0) return 'No can has been examined yet: nothing is known of how many leak.';
  if (zeroFoundUpperBound !== null) return `${cansExamined} cans were examined and none of them leaked. That is not proof that none leaks: if they were drawn at random, up to ${percent(zeroFoundUpperBound, 2)} of the cans may leak, with 95 % confidence.`;
  return `${cansExamined} cans were examined; ${cansLeaking} of them leaked (${percent(cansLeaking / cansExamined, 1)}). Returned cans are chosen, not drawn at random: the share among all cans is not known from them.`;
}

function verification({ asked, answer }: KeptVerification, verdict: string): string {
  const { stream, before, after, welch, afterControl } = answer;
  const number = (value: number) => `${value.toFixed(stream.decimals + 1)} ${stream.unit}`;
  const place = [stream.machine, stream.machineUnit, stream.lane].filter((code) => code !== null).join(' ');
  const of = asked.basis === 'cans' ? 'means of single cans' : 'means of subgroups';
  const control = { 'in-control': 'No rule of the control chart fired after the change.', signals: `Rules of the control chart fired on ${after.signalled} of ${after.judged} subgroups after the change.`, 'partly-judged': `${after.notJudged} of ${after.checks} subgroups after the change were not judged by limits.`, 'not-judged': 'The subgroups after the change were not judged by limits.' }[afterControl];
  return [
    `${stream.characteristic} on ${place} was compared before and after this change: ${asked.change}. Mean before ${number(before.mean)} (${before.n} ${of}), after ${number(after.mean)} (${after.n}).`,
    welch === null ? null : `Difference ${number(welch.difference)}, 95 % interval ${number(welch.low)} to ${number(welch.high)}.`, control,
    'The comparison shows that the two times differ or not; by itself it does not show why.', verdict,
  ].filter((line) => line !== null).join('\n');
}

/** Places that the draft left open and nobody filled in. */
export const openPlaces = (text: string): string[] => text.match(/\[[^[\]\n]+\]/g) ?? [];
