import { z } from 'zod';
import { endpoint } from './endpoint.js';
import { administrators, type Role, roles } from './roles.js';
import { done, id, idParams, idText, moment, shortText } from './shapes.js';
import { toldHours, withheld } from './told-hours.js';

const count = z.number().int().nonnegative();
/** Everybody who acts on what they are told; an auditor reads. */
export const toldPeople: readonly Role[] = roles.filter((role) => role !== 'auditor');

export const outgoingKind = z.enum(['signal.raised', 'check.overdue', 'test']);
export type OutgoingKind = z.infer<typeof outgoingKind>;
const chosenKinds = z.array(outgoingKind.exclude(['test'])).min(1, 'at least one kind of message').transform((kinds) => [...new Set(kinds)]);

export const webhook = z.object({
  id, name: z.string(), url: z.string(), kinds: z.array(z.string()), allowInternal: z.boolean(), active: z.boolean(), madeAt: moment, ...toldHours,
  /** `held`: messages that wait for the end of quiet hours. */
  waiting: count, held: count, failed: count, lastDeliveredAt: moment.nullable(),
});
export type Webhook = z.infer<typeof webhook>;
const url = z.string().trim().max(2000).regex(/^https?:\/\//i, 'an address that begins with http:// or https://').refine((text) => URL.canParse(text), 'an address with a host').refine((text) => !URL.canParse(text) || new URL(text).username === '', 'an address without a login in it');
const given = z.object({ name: shortText, url, kinds: chosenKinds, allowInternal: z.boolean().default(false) });
/** Left out: at any hour, on every day, never quiet. */
const hours = { ...toldHours, shift: toldHours.shift.default(null), quiet: toldHours.quiet.default(null) };
/** Left out: as they are. */
const changedHours = { shift: toldHours.shift.optional(), shifts: toldHours.shifts.unwrap().optional(), quiet: toldHours.quiet.optional(), days: toldHours.days.unwrap().optional() };

export const listWebhooks = endpoint({
  method: 'GET', path: '/api/webhooks', feature: 'outgoing', access: administrators, summary: 'Where other programs are told', answer: z.array(webhook),
});
/** Whether messages can name the page that they are about: without PUBLIC_URL they have its path alone. */
export const getLinksOut = endpoint({
  method: 'GET', path: '/api/links-out', feature: 'outgoing', access: administrators, summary: 'Under which address messages that go out link to this installation', answer: z.object({ publicUrl: z.string().nullable() }),
});
export const createWebhook = endpoint({
  method: 'POST', path: '/api/webhooks', feature: 'outgoing', access: administrators, status: 201,
  summary: 'Tell another program by HTTP POST',
  description: 'Each message is JSON: { event, id, plant, at, text, data }; data has the path of the page, and with PUBLIC_URL its whole address as `link`. Header seamledger-signature is "v1=" and the HMAC-SHA-256, in hexadecimal, of the header seamledger-timestamp (seconds since 1970), a dot and the body, with the secret as key. seamledger-event and seamledger-delivery name what it is. The secret is in this answer and nowhere else. An answer that is not 2xx within 10 s is tried again after 2, 4, 8 … seconds, at most ten minutes, 20 times. Redirects are not followed. Outside the hours and on other days nothing is sent, and the delivery log says so; what comes in quiet hours is sent at their end, one message after the other; messages of kind "test", and those sent again by hand, go at once. What was begun before quiet hours is tried on in them. Where a named shift is not set up any more, messages go at any hour of the chosen days until somebody chooses anew. Addresses inside a network are refused unless `allowInternal` is set.',
  body: given.extend(hours), answer: z.object({ webhook, secret: z.string() }),
});
export const changeWebhook = endpoint({
  method: 'PUT', path: '/api/webhooks/:id', feature: 'outgoing', access: administrators, summary: 'Change a webhook, or switch it off', params: idParams, body: given.extend({ active: z.boolean(), ...changedHours }), answer: webhook, problems: ['not-found'],
});
export const removeWebhook = endpoint({
  method: 'DELETE', path: '/api/webhooks/:id', feature: 'outgoing', access: administrators, summary: 'Remove a webhook; its log stays', params: idParams, answer: done, problems: ['not-found'],
});
export const testWebhook = endpoint({
  method: 'POST', path: '/api/webhooks/:id/test', feature: 'outgoing', access: administrators, status: 202, summary: 'Send a message of kind "test"', params: idParams, answer: done, problems: ['not-found'],
});

export const delivery = z.object({
  id, webhookId: id, webhook: z.string(), kind: z.string(), /** quiet: waits for the end of quiet hours. not-sent: `withheld` says why. */
  state: z.enum(['waiting', 'delivered', 'failed', 'quiet', 'not-sent']), withheld: withheld.nullable(), attempts: count,
  lastStatus: z.number().int().nullable(), lastAnswer: z.string().nullable(), lastError: z.string().nullable(), madeAt: moment, attemptedAt: moment.nullable(), deliveredAt: moment.nullable(),
});
export type Delivery = z.infer<typeof delivery>;
export const listDeliveries = endpoint({
  method: 'GET', path: '/api/deliveries', feature: 'outgoing', access: administrators, summary: 'What was sent to webhooks, newest first, with the last answer',
  query: z.object({ before: idText.optional(), take: z.coerce.number().int().min(1).max(200).default(50) }), answer: z.array(delivery),
});
export const resendDelivery = endpoint({
  method: 'POST', path: '/api/deliveries/:id/resend', feature: 'outgoing', access: administrators, status: 202,
  summary: 'Send a message again, with the same id', params: idParams, answer: done, problems: ['not-found', 'wrong-state'],
});

export const noticeChoice = z.object({
  address: z.email('an e-mail address').max(200), signals: z.boolean(), overdue: z.boolean(),
  ...toldHours,
  digestMinutes: z.number().int().min(15).max(1440).nullable(),
});
export type NoticeChoice = z.infer<typeof noticeChoice>;
const myNotices = z.object({ mailServer: z.boolean(), choice: noticeChoice.nullable(), calendarSince: moment.nullable(), waiting: count });

export const getMyNotices = endpoint({
  method: 'GET', path: '/api/account/notices', feature: 'outgoing', access: toldPeople, summary: 'What the person wants to be told, and how', answer: myNotices,
});
export const saveMyNotices = endpoint({
  method: 'PUT', path: '/api/account/notices', feature: 'outgoing', access: toldPeople,
  summary: 'Choose what comes by e-mail', description: 'Outside the shift, and on days that are not chosen, nothing is told. Where a named shift is not set up any more, everything is told on the chosen days until the person chooses anew. In quiet hours messages wait and come together at their end. About one stream or check plan at most one e-mail an hour is sent; what comes meanwhile waits for the next.', body: noticeChoice, answer: myNotices,
});
export const endMyNotices = endpoint({
  method: 'DELETE', path: '/api/account/notices', feature: 'outgoing', access: toldPeople, summary: 'End all e-mails to the person', description: 'What is waiting is not sent any more.', answer: myNotices,
});
export const makeMyCalendar = endpoint({
  method: 'POST', path: '/api/account/calendar', feature: 'outgoing', access: toldPeople, status: 201,
  summary: 'Make the secret address of a calendar of due checks', description: 'The former address ends. The new one is in this answer and nowhere else.', answer: z.object({ path: z.string() }),
});
export const endMyCalendar = endpoint({
  method: 'DELETE', path: '/api/account/calendar', feature: 'outgoing', access: toldPeople, summary: 'End the address of the calendar', answer: done,
});
export const getCalendar = endpoint({
  method: 'GET', path: '/api/calendar/:token', feature: 'outgoing', access: 'public',
  summary: 'Due checks as iCalendar (RFC 5545)', description: 'The address is the secret: it is good until its owner makes another or ends it, or is disabled.',
  params: z.object({ token: z.string().max(100) }), answer: z.string(), answerType: 'text/calendar', problems: ['not-found'],
});
