import { createHash, timingSafeEqual } from 'node:crypto';
import type { FastifyInstance } from 'fastify';
import { collectDefaultMetrics, Gauge, Histogram, Registry } from 'prom-client';
import { isLoopback } from './config.js';
import type { Work } from './work.js';

/** Numbers that other parts of the program know: asked with each scrape. */
export type Measured = { name: string; help: string; read(): number | Promise<number> };
const measured: Measured[] = [];
/** For queues that live in memory, such as those of feeds. */
export function measure(one: Measured): void {
  measured.push(one);
}

/** The pattern of a route, never its address: addresses hold ids and secrets, and are without number. So are the files of the web client, which have a route each and other names with each build. */
export const routeLabel = (pattern: string | undefined): string => (pattern === undefined ? 'none' : pattern === '/metrics' || pattern.startsWith('/api/') ? pattern : 'web client');

const hash = (text: string) => createHash('sha256').update(text).digest();

/**
 * GET /metrics in the text format of Prometheus: durations by route, outbox, open signals, the process. With METRICS_TOKEN
 * only for who brings it as a bearer token; without one only for this machine itself, and not through a proxy on it.
 */
export function serveMetrics(server: FastifyInstance, work: Work, token: string | null): void {
  const registry = new Registry();
  collectDefaultMetrics({ register: registry });
  const durations = new Histogram({ name: 'seamledger_http_request_duration_seconds', help: 'Time until an answer was sent, by method, route and status', labelNames: ['method', 'route', 'status'], buckets: [0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 5, 10], registers: [registry] });
  const gauge = (name: string, help: string) => new Gauge({ name, help, registers: [registry] });
  const rows = gauge('seamledger_outbox_rows', 'Messages that wait for their reactions');
  const age = gauge('seamledger_outbox_oldest_seconds', 'How long ago the message that waits longest fell due');
  const failing = gauge('seamledger_outbox_failing_rows', 'Messages whose last reaction failed');
  const signals = gauge('seamledger_signals_open', 'Signals that nobody has closed');
  const others = new Map<string, Gauge>();

  server.addHook('onResponse', async (request, reply) => {
    durations.observe({ method: request.method, route: routeLabel(request.routeOptions.url), status: String(reply.statusCode) }, reply.elapsedTime / 1000);
  });
  server.get('/metrics', async (request, reply) => {
    const given = /^Bearer (.+)$/.exec(request.headers.authorization ?? '')?.[1];
    const here = isLoopback((request.socket.remoteAddress ?? '').replace(/^::ffff:/, '')) && !['forwarded', 'x-forwarded-for', 'x-real-ip', 'via'].some((name) => name in request.headers);
    const may = token === null ? here : given !== undefined && timingSafeEqual(hash(given), hash(token));
    if (!may) return reply.status(token === null ? 403 : 401).type('text/plain; charset=utf-8').send(token === null ? 'only for this machine itself, or with a token: set METRICS_TOKEN\n' : 'bring the token: Authorization: Bearer METRICS_TOKEN\n');
    const [now] = await work.read.$queryRaw<{ rows: number; oldest: number; failing: number; signals: number }[]>`
      SELECT count(*)::int AS rows, coalesce(greatest(0, extract(epoch FROM now() - min(due_at))), 0)::float8 AS oldest, count(*) FILTER (WHERE attempts > 0)::int AS failing,
        (SELECT count(*) FROM signal WHERE state <> 'closed')::int AS signals FROM outbox_row WHERE done_at IS NULL`;
    rows.set(now?.rows ?? 0);
    age.set(now?.oldest ?? 0);
    failing.set(now?.failing ?? 0);
    signals.set(now?.signals ?? 0);
    for (const { name, help, read } of measured) {
      const shown = others.get(name) ?? gauge(name, help);
      others.set(name, shown);
      shown.set(await read());
    }
    return reply.header('cache-control', 'no-store').type(registry.contentType).send(await registry.metrics());
  });
}
