import { z } from 'zod';
import { endpoint } from './endpoint.js';

export const getHealth = endpoint({
  method: 'GET', path: '/api/health', feature: 'platform', access: 'public', summary: 'Process, database and migrations',
  answer: z.object({ status: z.enum(['ok', 'failing']), process: z.object({ uptimeSeconds: z.number() }), database: z.enum(['ok', 'unreachable']), migrations: z.object({ applied: z.number().int(), pending: z.number().int() }) }),
  problems: ['database-unavailable'],
});
export const getVersion = endpoint({
  method: 'GET', path: '/api/version', feature: 'platform', access: 'public', summary: 'Version of the program and of its libraries',
  answer: z.object({ version: z.string(), node: z.string(), statistics: z.string(), canmaking: z.string() }),
});
export const getOpenApi = endpoint({
  method: 'GET', path: '/api/openapi.json', feature: 'platform', access: 'public', summary: 'This document (OpenAPI 3.1)', answer: z.record(z.string(), z.unknown()),
});
export const getDocs = endpoint({
  method: 'GET', path: '/api/docs', feature: 'platform', access: 'public', summary: 'This document as a page to read', answer: z.string(), answerType: 'text/html',
});
export const getLive = endpoint({
  method: 'GET', path: '/api/live', feature: 'platform', access: ['operator', 'technician', 'engineer', 'manager', 'auditor', 'administrator'],
  summary: 'What changed, as server-sent events', description: 'Events "stream", "signal", "incident" and "hold", each with { id }; ask again for the view that shows it. "hello" begins a stream. After a drop, Last-Event-ID resumes without a gap for 30 minutes; later than that, "ask-again" says that everything may be old.',
  answer: z.string(), answerType: 'text/event-stream',
});
