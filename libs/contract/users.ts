import { z } from 'zod';
import { endpoint } from './endpoint.js';
import { administrators, readers, roles } from './roles.js';
import { done, id, idParams, moment, shortText } from './shapes.js';

export const person = z.object({ id, login: z.string(), name: z.string(), role: z.enum(roles) });
export type Person = z.infer<typeof person>;

export const login = z.string().trim().toLowerCase().regex(/^[a-z0-9._-]{2,40}$/, '2 to 40 letters, digits, dots, hyphens or underscores');
export const password = z.string().min(12, 'at least 12 characters').max(200);

/** What an auditor’s account may see, and until when it works: one customer’s products, from `from` to before `until`. */
export const auditorScope = z.object({ customer: z.string().trim().min(1, 'a customer of a product').max(200), from: moment, until: moment, expiresAt: moment })
  .refine(({ from, until }) => new Date(from) < new Date(until), { path: ['until'], message: 'a moment after the beginning of the period' });
export type AuditorScopeView = z.infer<typeof auditorScope>;

export const sessionView = z.object({
  person: person.nullable(),
  /** Sent back in the header x-csrf-token with each change. Null when nobody is signed in. */
  csrf: z.string().nullable(),
  /** True until the person enters the password again: everything else is refused. */
  locked: z.boolean(),
  /** After how many minutes without anything done the session locks. */
  idleMinutes: z.number().int(),
  /** An auditor’s; null for everybody else, and where an administrator has set none. */
  scope: z.object({ customer: z.string(), from: moment, until: moment }).nullable(),
  /** True while the installation has no plant yet: the first-run page makes it. */
  firstRun: z.boolean(),
  plant: z.object({ name: z.string(), timeZone: z.string(), demo: z.boolean() }).nullable(),
  version: z.string(),
  /** Accounts that still have the password of the demo plant; empty elsewhere. */
  demoAccounts: z.array(z.object({ login: z.string(), role: z.enum(roles) })),
});
export type SessionView = z.infer<typeof sessionView>;

export const getSession = endpoint({
  method: 'GET', path: '/api/session', feature: 'users', access: 'public',
  summary: 'Who is signed in', answer: sessionView,
});

export const signIn = endpoint({
  method: 'POST', path: '/api/session', feature: 'users', access: 'public',
  summary: 'Sign in', description: 'Sets an httpOnly, SameSite=Strict cookie. Ten failures in 15 minutes for one login or address are answered with 429.',
  body: z.object({ login: z.string().max(200), password: z.string().max(200) }), answer: sessionView,
  problems: ['wrong-credentials', 'too-many-attempts'],
});

export const signOut = endpoint({
  method: 'DELETE', path: '/api/session', feature: 'users', access: roles, auditor: 'own', whileLocked: true,
  summary: 'Sign out', answer: done,
});

export const firstRun = endpoint({
  method: 'POST', path: '/api/first-run', feature: 'users', access: 'public',
  summary: 'Make the plant and its first administrator, once', status: 201,
  body: z.object({ plantName: shortText, timeZone: z.string().max(60), login, name: shortText, password }),
  answer: sessionView, problems: ['first-run-done'],
});

export const changePassword = endpoint({
  method: 'PUT', path: '/api/account/password', feature: 'users', access: roles, auditor: 'own',
  summary: 'Change one’s own password', description: 'Ends the person’s other sessions.',
  body: z.object({ oldPassword: z.string().max(200), newPassword: password }), answer: done, problems: ['wrong-credentials', 'too-many-attempts'],
});

export const userView = z.object({ id, login: z.string(), name: z.string(), role: z.enum(roles), disabled: z.boolean(), demoPassword: z.boolean(), createdAt: moment, /** Of auditors only. */ scope: auditorScope.nullable() });
export type UserView = z.infer<typeof userView>;

export const listUsers = endpoint({
  method: 'GET', path: '/api/users', feature: 'users', access: administrators, summary: 'The people of the plant', answer: z.array(userView),
});

const scopeOfAuditors = 'An auditor sees the products of one customer in one period, until the account expires (`scope`); without one only their own account. Other roles have none.';
export const createUser = endpoint({
  method: 'POST', path: '/api/users', feature: 'users', access: administrators, summary: 'Make an account', description: scopeOfAuditors, status: 201,
  body: z.object({ login, name: shortText, role: z.enum(roles), password, scope: auditorScope.optional() }), answer: userView, problems: ['already-there'],
});

export const changeUser = endpoint({
  method: 'PUT', path: '/api/users/:id', feature: 'users', access: administrators,
  summary: 'Change role or name, disable or enable, or give a new password', description: `The last administrator who is not disabled stays one. Disabling and a new password end the person’s sessions at once. ${scopeOfAuditors}`,
  params: idParams, body: z.object({ name: shortText, role: z.enum(roles), disabled: z.boolean(), password: password.optional(), scope: auditorScope.optional() }), answer: userView, problems: ['not-found', 'wrong-state'],
});

export const auditEntry = z.object({ id: z.string(), at: moment, actor: z.string(), action: z.string(), subject: z.string(), before: z.unknown(), after: z.unknown() });
export const listAudit = endpoint({
  method: 'GET', path: '/api/audit', feature: 'users', access: readers, summary: 'Who did what, newest first', description: 'With subject, for example "check 12", only what was done to that. The trail is append-only.',
  query: z.object({ subject: z.string().max(200).optional(), before: z.string().regex(/^\d{1,18}$/, 'the id of an entry').optional(), take: z.coerce.number().int().min(1).max(200).default(50) }), answer: z.array(auditEntry),
});
