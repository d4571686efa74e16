import { z } from 'zod';
import { endpoint } from './endpoint.js';
import { roles } from './roles.js';
import { done, id, shortText } from './shapes.js';

export const person = z.object({ id, login: z.string(), name: z.string(), role: z.enum(roles) });
export type Person = z.infer<typeof person>;

export const login = z.string().trim().toLowerCase().regex(/^[a-z0-9._-]{2,40}$/, '2 to 40 letters, digits, dots, hyphens or underscores');
export const password = z.string().min(12, 'at least 12 characters').max(200);

export const sessionView = z.object({
  person: person.nullable(),
  /** Sent back in the header x-csrf-token with each change. Null when nobody is signed in. */
  csrf: z.string().nullable(),
  /** True while the installation has no plant yet: the first-run page makes it. */
  firstRun: z.boolean(),
  plant: z.object({ name: z.string(), timeZone: z.string(), demo: z.boolean() }).nullable(),
  version: z.string(),
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
  method: 'DELETE', path: '/api/session', feature: 'users', access: roles,
  summary: 'Sign out', answer: done,
});

export const firstRun = endpoint({
  method: 'POST', path: '/api/first-run', feature: 'users', access: 'public',
  summary: 'Make the plant and its first administrator, once', status: 201,
  body: z.object({ plantName: shortText, timeZone: z.string().max(60), login, name: shortText, password }),
  answer: sessionView, problems: ['first-run-done'],
});
