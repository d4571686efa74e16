import 'reflect-metadata';
import { existsSync } from 'node:fs';
import path from 'node:path';
import cookie from '@fastify/cookie';
import multipart from '@fastify/multipart';
import fastifyStatic from '@fastify/static';
import { NestFactory } from '@nestjs/core';
import { FastifyAdapter, type NestFastifyApplication } from '@nestjs/platform-fastify';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { Problem, problemBody } from '#contract/problem';
import { AppModule } from './app.module.js';
import type { Clock } from './platform/clock.js';
import { takeJsonBodies } from './platform/json-body.js';
import { serveMetrics } from './platform/metrics.js';
import type { Outward } from './platform/outward.js';
import { sendSecurityHeaders } from './platform/security-headers.js';
import type { Work } from './platform/work.js';

const IMPORT_BYTES = 64 * 1024 * 1024;

/** An address that cannot be decoded never reaches a route, and with it not the problem filter. */
function refuseAddress(_error: unknown, request: FastifyRequest, reply: FastifyReply): void {
  void reply.status(400).type('application/problem+json').send(problemBody(new Problem('invalid-input', undefined, [{ field: 'address', expected: 'an address whose percent signs stand for UTF-8' }]), request.url.split('?')[0]));
}

/** The whole HTTP side, not yet listening: API, headers, and the built web client where there is one. */
export async function makeApp(parts: { work: Work; clock: Clock; webFolder?: string; log?: boolean; outward?: Outward }): Promise<NestFastifyApplication> {
  const adapter = new FastifyAdapter({ trustProxy: 'loopback', logger: parts.log ? { level: 'warn' } : false, forceCloseConnections: true, frameworkErrors: refuseAddress });
  const app = await NestFactory.create<NestFastifyApplication>(AppModule.with(parts), adapter, { logger: parts.log ? ['warn', 'error'] : false, abortOnError: false });
  const server = app.getHttpAdapter().getInstance();
  takeJsonBodies(app);
  serveMetrics(server, parts.work, parts.outward?.metricsToken ?? null);
  await app.register(cookie);
  await app.register(multipart, { limits: { fileSize: IMPORT_BYTES, files: 10, fields: 40 } });
  await sendSecurityHeaders(app);
  if (parts.webFolder && existsSync(path.join(parts.webFolder, 'index.html'))) {
    await app.register(fastifyStatic, { root: parts.webFolder, wildcard: false, preCompressed: true, setHeaders: (reply, file) => {
      reply.header('cache-control', file.includes(`${path.sep}assets${path.sep}`) ? 'public, max-age=31536000, immutable' : 'no-cache');
    } });
  }
  server.addHook('onSend', async (request, reply) => {
    if (request.url.startsWith('/api/') && !reply.hasHeader('cache-control')) reply.header('cache-control', 'no-store');
  });
  if (parts.webFolder) {
    // Addresses of screens are the web client's; everything else that no route takes is a 404 by Nest and the problem filter.
    server.get('/*', (request, reply) => {
      // A script of an older build is gone: a page of HTML in its place would only confuse.
      if (request.url.startsWith('/api') || request.url.startsWith('/assets/')) return reply.status(404).type('application/problem+json').send(problemBody(new Problem('not-found'), request.url.split('?')[0]));
      return reply.header('cache-control', 'no-cache').sendFile('index.html', { cacheControl: false });
    });
  }
  await app.init();
  await server.ready();
  return app;
}
