import helmet from '@fastify/helmet';
import type { NestFastifyApplication } from '@nestjs/platform-fastify';

/** Headers that keep pages to themselves, on every answer. They are the same for all, so they are worked out by the first request and set from then on. */
export async function sendSecurityHeaders(app: NestFastifyApplication): Promise<void> {
  await app.register(helmet, {
    global: false,
    contentSecurityPolicy: {
      directives: {
        defaultSrc: ["'self'"], scriptSrc: ["'self'"], imgSrc: ["'self'", 'data:', 'blob:'],
        // The component library and the charts set styles from script: style rules cannot run code, so they are let in.
        styleSrc: ["'self'", "'unsafe-inline'"],
        connectSrc: ["'self'"], objectSrc: ["'none'"], frameAncestors: ["'none'"], baseUri: ["'none'"], formAction: ["'self'"], upgradeInsecureRequests: null,
      },
    },
    strictTransportSecurity: false,
    referrerPolicy: { policy: 'same-origin' },
  });
  let headers: [name: string, value: string][] | null = null;
  app.getHttpAdapter().getInstance().addHook('onRequest', async (_request, reply) => {
    const { raw } = reply;
    if (headers !== null) {
      for (const [name, value] of headers) raw.setHeader(name, value);
      return;
    }
    const before = new Set(raw.getHeaderNames());
    await reply.helmet();
    headers = raw.getHeaderNames().filter((name) => !before.has(name)).map((name) => [name, String(raw.getHeader(name))]);
  });
}
