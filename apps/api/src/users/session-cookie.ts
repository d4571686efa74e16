import { SESSION_COOKIE } from '../platform/access.guard.js';
import type { Reply, Request } from '../platform/endpoint.js';

/** httpOnly and SameSite=Strict always; Secure where the request came by https. */
export function setSessionCookie(request: Request, reply: Reply, opened: { token: string; expiresAt: Date }): void {
  reply.setCookie(SESSION_COOKIE, opened.token, { path: '/', httpOnly: true, sameSite: 'strict', secure: request.protocol === 'https', expires: opened.expiresAt });
}
