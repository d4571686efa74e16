import type { ReplyLanguage } from '#contract/incident-life';
import type { KeptVerification } from '#contract/incident-shapes';
import type { Incident } from '#contract/incidents';
import { de } from './reply-words/de.js';
import { en } from './reply-words/en.js';
import type { ReplyWords } from './reply-words/reply-words.js';

export const replyWords: Record<ReplyLanguage, ReplyWords> = { en, de };
export type ReplyFacts = { plant: string; timeZone: string; writtenAt: Date; incident: Incident; language: ReplyLanguage };

/**
 * A first text of the answer to a customer, from what is on record and nothing else; the facts are the same in each
 * language, and what people wrote stays in theirs. What only a person can say stands in square brackets; a text that
 * still has them does not count as an answer.
 */
export function draftReply({ plant, timeZone, writtenAt, incident, language }: ReplyFacts): string {
  const words = replyWords[language];
  const day = new Intl.DateTimeFormat(words.locale, { timeZone, dateStyle: 'long' });
  const moment = new Intl.DateTimeFormat(words.locale, { timeZone, dateStyle: 'long', timeStyle: 'short' });
  const { kind, customer, product, productName, line, canCode, madeAt, receivedAt, cansComplained, description, containment, cause, causeCategory, action, causeMachine, closedWithout, closedAt } = incident;
  const verified = incident.verifications.find(({ id }) => id === incident.verificationId);
  const part = (title: string, ...lines: (string | null)[]) => [title, ...lines.filter((entry) => entry !== null)].join('\n');
  const orOpen = (text: string, open: string) => (text.trim() === '' ? `[${open}]` : text);
  const leakPlace = words.places[incident.leakPlace] ?? incident.leakPlace;
  return [
    `${plant}\n${day.format(writtenAt)}`,
    `${words.to}${customer}\n[${words.person}]`,
    words.subject({ complaint: kind === 'complaint', day: day.format(new Date(receivedAt)), defect: words.defects[incident.defect] ?? incident.defectName, product: `${product} ${productName}`, number: incident.id }),
    part(words.reported, cansComplained > 0 ? words.cansAt(cansComplained, leakPlace) : words.faultAt(leakPlace), description),
    part(words.which, canCode === '' ? words.noCode : words.code(canCode), words.made(line, moment.format(new Date(madeAt)), timeZone)),
    part(words.examined, examined(incident, words)),
    part(words.held, orOpen(containment, words.heldOpen), words.heldNote),
    part(words.cause, orOpen(cause, words.causeOpen), causeCategory === null ? null : words.causeKind(words.kinds[causeCategory], causeMachine === null ? null : `${causeMachine.code} ${causeMachine.name}`)),
    part(words.did, orOpen(action, words.didOpen)),
    part(words.verified, verified ? verification(verified, incident.verdict, words) : closedAt !== null && closedWithout !== '' ? words.notCompared(closedWithout) : words.notYet),
    words.ask,
    `[${words.signature}]`,
  ].join('\n\n');
}

const fixed = ({ locale }: ReplyWords, value: number, digits: number): string => new Intl.NumberFormat(locale, { minimumFractionDigits: digits, maximumFractionDigits: digits, useGrouping: false }).format(value);

/** None found is not none there: the bound that n cans allow belongs to the number. */
function examined({ cansExamined, cansLeaking, zeroFoundUpperBound }: Incident, words: ReplyWords): string {
  const percent = (share: number, digits: number) => `${fixed(words, 100 * share, digits)} %`;
  if (cansExamined === 0) return words.noneExamined;
  return zeroFoundUpperBound === null ? words.leaked(cansExamined, cansLeaking, percent(cansLeaking / cansExamined, 1)) : words.noneLeaked(cansExamined, percent(zeroFoundUpperBound, 2));
}

function verification({ asked, answer }: KeptVerification, verdict: string, words: ReplyWords): string {
  const { stream, before, after, welch, afterControl } = answer;
  const number = (value: number) => `${fixed(words, value, stream.decimals + 1)} ${stream.unit}`;
  const place = [stream.machine, stream.machineUnit, stream.lane].filter((code) => code !== null).join(' ');
  return [
    words.compared({ characteristic: stream.characteristic, place, change: asked.change, before: number(before.mean), after: number(after.mean), nBefore: before.n, nAfter: after.n, basis: asked.basis === 'cans' ? 'cans' : 'subgroups' }),
    welch === null ? null : words.difference(number(welch.difference), number(welch.low), number(welch.high)), words.control[afterControl](after), words.noWhy, verdict,
  ].filter((line) => line !== null).join('\n');
}

/** Places that the draft left open and nobody filled in. */
export const openPlaces = (text: string): string[] => text.match(/\[[^[\]\n]+\]/g) ?? [];
