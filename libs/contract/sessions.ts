import { z } from 'zod';
import { endpoint } from './endpoint.js';
import { administrators, roles } from './roles.js';
import { done, moment } from './shapes.js';
import { sessionView } from './users.js';

export const idleMinutes = z.number().int('whole minutes').min(1, 'at least 1 minute').max(480, 'at most 480 minutes');

export const lockSession = endpoint({
  method: 'POST', path: '/api/session/lock', feature: 'users', access: roles, auditor: 'own', whileLocked: true,
  summary: 'Lock one’s own session, as leaving the screen does', answer: done,
});

export const unlockSession = endpoint({
  method: 'POST', path: '/api/session/unlock', feature: 'users', access: roles, auditor: 'own', whileLocked: true,
  summary: 'Unlock one’s own session with the password', description: 'Failures are counted like failed log-ins. Until then everything but this, locking and signing out is refused with session-locked.',
  body: z.object({ password: z.string().max(200) }), answer: sessionView, problems: ['wrong-credentials', 'too-many-attempts'],
});

export const noteActivity = endpoint({
  method: 'POST', path: '/api/session/activity', feature: 'users', access: roles, auditor: 'own',
  summary: 'Say that the person is at the screen', description: 'A session without a change or this for as many minutes as the plant sets is locked: what a page asks by itself does not count.',
  answer: done,
});

export const openSession = z.object({
  /** The beginning of the fingerprint of its token, by which it is ended. */
  id: z.string(),
  createdAt: moment, activeAt: moment, expiresAt: moment,
  /** Where it was opened from; empty for sessions of before. */
  address: z.string(), agent: z.string(),
  here: z.boolean(), locked: z.boolean(),
});
export type OpenSession = z.infer<typeof openSession>;

export const listOwnSessions = endpoint({
  method: 'GET', path: '/api/account/sessions', feature: 'users', access: roles, auditor: 'own',
  summary: 'One’s own open sessions, the last used first', answer: z.object({ sessions: z.array(openSession) }),
});

export const endOwnSession = endpoint({
  method: 'DELETE', path: '/api/account/sessions/:session', feature: 'users', access: roles, auditor: 'own',
  summary: 'End one of one’s own sessions', params: z.object({ session: z.string().regex(/^[0-9a-f]{16}$/, '16 digits of 0-9 and a-f') }), answer: done, problems: ['not-found'],
});

export const sessionRule = z.object({ idleMinutes });
export const getSessionRule = endpoint({
  method: 'GET', path: '/api/session-rule', feature: 'users', access: administrators, summary: 'After how many idle minutes sessions lock', answer: sessionRule,
});
export const setSessionRule = endpoint({
  method: 'PUT', path: '/api/session-rule', feature: 'users', access: administrators, summary: 'Set after how many idle minutes sessions lock', body: sessionRule, answer: sessionRule,
});
