import type { Reply } from './endpoint.js';

/** Answers with a file from outside: shown as the picture that its content is, and never run as a page. */
export function servePhoto(reply: Reply, photo: { contentType: string; content: Uint8Array; sha256: string }): Reply {
  return reply.type(photo.contentType).header('x-content-type-options', 'nosniff').header('content-disposition', 'inline')
    .header('content-security-policy', "default-src 'none'; sandbox").header('cache-control', 'private, max-age=86400, immutable').header('etag', `"${photo.sha256}"`).send(Buffer.from(photo.content));
}
