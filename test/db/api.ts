import type { NestFastifyApplication } from '@nestjs/platform-fastify';
import { createHash, randomBytes } from 'node:crypto';
import { makeApp } from '../../apps/api/src/app.js';
import { type Clock, systemClock } from '../../apps/api/src/platform/clock.js';
import { OutboxWorker } from '../../apps/api/src/platform/outbox.worker.js';
import { NOTHING_OUTWARD, type Outward } from '../../apps/api/src/platform/outward.js';
import type { AnswerOf, Endpoint, RequestOf } from '#contract/endpoint';
import type { ProblemDetails } from '#contract/problem';
import type { Role } from '#contract/roles';
import type { TestDatabase } from './database.js';

type Given<E> = { [Part in keyof RequestOf<E> as undefined extends RequestOf<E>[Part] ? never : Part]: RequestOf<E>[Part] };
export type Reply<Body> = { status: number; body: Body; problem: ProblemDetails; headers: Record<string, string>; text: string };

export type TestApi = {
  app: NestFastifyApplication;
  /** Calls as the factory's user of this role (see makePlant), with session and CSRF token in place. */
  as(role: Role): TestCaller;
  nobody: TestCaller;
  /** Runs the outbox reactions that are due; answers how many rows were handled. */
  react(): Promise<number>;
  close(): Promise<void>;
};
export type TestCaller = {
  call<E extends Endpoint>(endpoint: E, given: Given<E>): Promise<Reply<AnswerOf<E>>>;
  raw(request: { method: 'GET' | 'POST' | 'PUT' | 'DELETE'; url: string; payload?: string | object | Buffer; headers?: Record<string, string> }): Promise<Reply<unknown>>;
};

/** The whole HTTP side on a test database, without a socket. Answers of 2xx are parsed by the contract: a view that drifts from it fails here. */
export async function startApi(database: TestDatabase, clock: Clock = systemClock, outward: Outward = NOTHING_OUTWARD): Promise<TestApi> {
  const app = await makeApp({ work: database.work, clock, outward });
  const sessions = new Map<Role, Promise<Record<string, string>>>();
  const sessionOf = (role: Role) => {
    if (!sessions.has(role)) sessions.set(role, openSession(database, role));
    return sessions.get(role) as Promise<Record<string, string>>;
  };
  const caller = (headersOf: () => Promise<Record<string, string>>): TestCaller => {
    const raw: TestCaller['raw'] = async (request) => {
      const headers = { ...(await headersOf()), ...request.headers };
      const response = await app.inject({ ...request, headers });
      const type = String(response.headers['content-type'] ?? '');
      const body: unknown = type.includes('json') && response.payload ? JSON.parse(response.payload) : response.statusCode === 204 ? undefined : response.payload;
      return { status: response.statusCode, body, problem: body as ProblemDetails, headers: Object.fromEntries(Object.entries(response.headers).map(([key, value]) => [key, String(value)])), text: response.payload };
    };
    return {
      raw,
      async call(endpoint, given) {
        const { params, query, body } = given as { params?: Record<string, unknown>; query?: Record<string, unknown>; body?: object };
        const path = endpoint.path.replace(/:([A-Za-z]+)/g, (_whole, name: string) => encodeURIComponent(String(params?.[name])));
        const pairs = Object.entries(query ?? {}).filter(([, value]) => value !== undefined).map(([key, value]): [string, string] => [key, String(value)]);
        const url = pairs.length > 0 ? `${path}?${new URLSearchParams(pairs)}` : path;
        const reply = await raw({ method: endpoint.method, url, ...(body === undefined ? {} : { payload: body }) });
        const parsed = reply.status < 300 && !endpoint.answerType ? endpoint.answer.parse(reply.body) : reply.body;
        return { ...reply, body: parsed as AnswerOf<typeof endpoint> };
      },
    };
  };
  return {
    app,
    as: (role) => caller(() => sessionOf(role)),
    nobody: caller(async () => ({})),
    react: () => app.get(OutboxWorker).drain(),
    close: () => app.close(),
  };
}

/** Signing in is tested through the door in test/api/users.spec.ts; elsewhere the session is put in place, to spare the hashing. */
async function openSession(database: TestDatabase, role: Role): Promise<Record<string, string>> {
  const user = await database.work.client.user.findFirstOrThrow({ where: { role, disabledAt: null }, orderBy: { id: 'asc' } });
  const token = randomBytes(32).toString('base64url');
  await database.work.client.session.create({ data: { plantId: user.plantId, userId: user.id, tokenHash: createHash('sha256').update(token).digest('hex'), csrf: `csrf-of-${role}`, expiresAt: new Date(Date.now() + 3_600_000) } });
  return { cookie: `seamledger_session=${token}`, 'x-csrf-token': `csrf-of-${role}` };
}
