import { z } from 'zod';
import { endpoint } from './endpoint.js';
import { administrators } from './roles.js';
import { done, id, idParams, moment, shortText } from './shapes.js';
import { dueCheck } from './due-checks.js';
import { nowBoard, signalRow } from './signals.js';

const count = z.number().int().nonnegative();

/** The Now board without names of customers and people: visitors walk past a wall screen. */
export const wallBoard = z.object({
  plant: z.string(), timeZone: z.string(), screen: z.string(), at: moment,
  lines: z.array(nowBoard.shape.lines.element.omit({ incidents: true }).extend({ incidents: count })),
  openSignals: count,
  signals: z.array(signalRow.pick({ id: true, stream: true, chart: true, rule: true, side: true, state: true, firedAt: true, seen: true })),
  due: z.array(dueCheck),
}).meta({ id: 'WallBoard' });
export type WallBoard = z.infer<typeof wallBoard>;

export const openWall = endpoint({
  method: 'POST', path: '/api/wall/session', feature: 'outgoing', access: 'public',
  summary: 'Let a screen show the wall board', description: 'Takes the token of a wall screen and sets an httpOnly cookie that is good for /api/wall alone, until the token is revoked or expires.',
  body: z.object({ token: z.string().min(1).max(100) }), answer: done, problems: ['wrong-credentials'],
});
export const getWall = endpoint({
  method: 'GET', path: '/api/wall', feature: 'outgoing', access: 'wall',
  summary: 'The board for a wall screen', description: 'Only with the token of a wall screen. It says nothing of customers and people.', answer: wallBoard,
});
export const getWallLive = endpoint({
  method: 'GET', path: '/api/wall/live', feature: 'outgoing', access: 'wall',
  summary: 'That the wall board changed, as server-sent events', description: 'Event "board" without content: ask again.', answer: z.string(), answerType: 'text/event-stream',
});

export const kiosk = z.object({ id, name: z.string(), madeAt: moment, expiresAt: moment.nullable(), revokedAt: moment.nullable(), state: z.enum(['active', 'expired', 'revoked']) });
export type Kiosk = z.infer<typeof kiosk>;

export const listKiosks = endpoint({
  method: 'GET', path: '/api/kiosks', feature: 'outgoing', access: administrators, summary: 'Wall screens and their tokens', answer: z.array(kiosk),
});
export const createKiosk = endpoint({
  method: 'POST', path: '/api/kiosks', feature: 'outgoing', access: administrators, status: 201,
  summary: 'Make a token for a wall screen', description: 'The token is in this answer and nowhere else: only its SHA-256 is stored.',
  body: z.object({ name: shortText, expiresAt: moment.nullable().default(null) }), answer: z.object({ kiosk, token: z.string() }),
});
export const revokeKiosk = endpoint({
  method: 'POST', path: '/api/kiosks/:id/revoke', feature: 'outgoing', access: administrators,
  summary: 'End the token of a wall screen at once', params: idParams, answer: kiosk, problems: ['not-found', 'wrong-state'],
});
