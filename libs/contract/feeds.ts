import { z } from 'zod';
import { endpoint } from './endpoint.js';
import { sentCheck } from './inspections.js';
import { problemDetails } from './problem.js';
import { engineers, feedScopes, recorders } from './roles.js';
import { id, idParams, moment, shortText } from './shapes.js';

export const feedScope = z.enum(feedScopes);
export const feedTokenState = z.enum(['active', 'expired', 'revoked']);

export const feedToken = z.object({
  id, name: z.string(),
  /** The first characters of the token; the rest is not kept. */
  hint: z.string(),
  state: feedTokenState, scopes: z.array(feedScope),
  /** Codes; empty means every machine of the plant. */
  machines: z.array(z.string()),
  perMinute: z.number().int(), expiresAt: moment, createdAt: moment, createdBy: z.string(), lastUsedAt: moment.nullable(),
  revokedAt: moment.nullable(), revokedBy: z.string().nullable(), revokeReason: z.string().nullable(),
}).meta({ id: 'FeedToken' });
export type FeedToken = z.infer<typeof feedToken>;

export const newFeedToken = z.object({
  name: shortText,
  scopes: z.array(feedScope).min(1, 'at least one thing that the token may send').max(feedScopes.length),
  machineIds: z.array(id).max(200).default([]),
  perMinute: z.number().int('a whole number of requests').min(1, 'at least 1 request a minute').max(6000, 'at most 6000 requests a minute').default(120),
  expiresAt: moment,
}).meta({ id: 'NewFeedToken' });
export type NewFeedToken = z.infer<typeof newFeedToken>;

export const listFeedTokens = endpoint({ method: 'GET', path: '/api/feed-tokens', feature: 'feeds', access: engineers, summary: 'Tokens of gauges and monitors, newest first', answer: z.array(feedToken) });
export const makeFeedToken = endpoint({
  method: 'POST', path: '/api/feed-tokens', feature: 'feeds', access: engineers, status: 201, summary: 'Make a token for a gauge or a monitor',
  description: 'The token is in this answer only: its SHA-256 is what the plant keeps. It is sent as "Authorization: Bearer …" and needs neither session nor x-csrf-token.',
  body: newFeedToken, answer: z.object({ token: z.string(), made: feedToken }), problems: ['already-there'],
});
export const revokeFeedToken = endpoint({
  method: 'POST', path: '/api/feed-tokens/:id/revoke', feature: 'feeds', access: engineers, summary: 'Revoke a token, at once and for good',
  params: idParams, body: z.object({ reason: z.string().trim().min(3, 'a reason of at least 3 characters').max(1000) }), answer: feedToken, problems: ['not-found', 'wrong-state'],
});

/** One check of a batch: stored, known from before under the same key and content, or refused and why. `row` counts from 1. */
export const batchResult = z.object({ row: z.number().int(), key: z.string().nullable(), outcome: z.enum(['stored', 'repeated', 'refused']), checkId: id.nullable(), problem: problemDetails.nullable() });
export type BatchResult = z.infer<typeof batchResult>;
export const batchAnswer = z.object({ stored: z.number().int(), repeated: z.number().int(), refused: z.number().int(), results: z.array(batchResult) }).meta({ id: 'BatchAnswer' });
export type BatchAnswer = z.infer<typeof batchAnswer>;

export const MOST_IN_BATCH = 500;
export const recordChecks = endpoint({
  method: 'POST', path: '/api/checks/batch', feature: 'inspections', access: recorders, feed: 'checks', summary: 'Log up to 500 checks; each is stored or refused by itself',
  description: 'The status is 200 also when some or all were refused: look at "refused" and at the problem of each result. Send a batch again with the same keys after a broken connection: what is stored answers "repeated".',
  body: z.object({ checks: z.array(sentCheck).min(1).max(MOST_IN_BATCH) }), answer: batchAnswer,
});
