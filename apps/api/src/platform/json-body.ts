import type { NestFastifyApplication } from '@nestjs/platform-fastify';
import { Problem } from '#contract/problem';
import { unkeepableText } from './unkeepable-text.js';

const USUAL_BYTES = 4 * 1024 * 1024;
/** A million numbers of up to 30 characters. */
export const WORKBENCH_BYTES = 32 * 1024 * 1024;
const WORKBENCH = /^\/api\/workbench\//;

/**
 * JSON bodies are parsed here, with one exception: bodies of the Workbench stay bytes. They may hold a million numbers,
 * and reading those is already work that belongs into a worker thread.
 */
export function takeJsonBodies(app: NestFastifyApplication): void {
  const server = app.getHttpAdapter().getInstance();
  // Before the body is read: the larger limit is the Workbench's alone.
  server.addHook('onRequest', async (request) => {
    if (!WORKBENCH.test(request.url) && Number(request.headers['content-length'] ?? 0) > USUAL_BYTES && /json/.test(request.headers['content-type'] ?? '')) throw new Problem('too-large', `At most ${USUAL_BYTES / 2 ** 20} MB are expected.`);
  });
  // biome-ignore lint/correctness/useHookAtTopLevel: a method of the server, not of React
  app.useBodyParser('application/json', { bodyLimit: WORKBENCH_BYTES }, (request, body: Buffer, done) => {
    const { url } = request as unknown as { url: string };
    if (WORKBENCH.test(url)) return done(null, body);
    if (body.length > USUAL_BYTES) return done(new Problem('too-large', `At most ${USUAL_BYTES / 2 ** 20} MB are expected.`));
    if (body.length === 0) return done(null, undefined);
    try {
      const text = new TextDecoder('utf-8', { fatal: true }).decode(body);
      const parsed: unknown = JSON.parse(text);
      // Only escapes can bring in what the database cannot keep as text.
      const place = /\\u(?:0000|d[89a-f])/i.test(text) ? unkeepableText(parsed) : null;
      if (place === null) done(null, parsed);
      else done(new Problem('invalid-input', undefined, [{ field: place, expected: 'text without the character U+0000 and without half a surrogate pair' }]));
    } catch {
      done(new Problem('invalid-input', 'The body is not JSON in UTF-8.', [{ field: 'body', expected: 'a JSON object in UTF-8' }]));
    }
  });
}
