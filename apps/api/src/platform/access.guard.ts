import { type CanActivate, type ExecutionContext, Inject, Injectable } from '@nestjs/common';
import { timingSafeEqual } from 'node:crypto';
import type { Endpoint } from '#contract/endpoint';
import { Problem } from '#contract/problem';
import { definitionOf, type Feed, type Reply, type Request, type Session, type Wall } from './endpoint.js';

/** Finds the session of a cookie token; bound by the users feature. */
export type SessionReader = { find(token: string): Promise<Session | null> };
export const SESSION_READER = Symbol('SESSION_READER');
export const SESSION_COOKIE = 'seamledger_session';
/** Finds the wall screen of a token; bound by the outgoing feature. */
export type WallReader = { find(token: string): Promise<Wall | null> };
export const WALL_READER = Symbol('WALL_READER');
export const WALL_COOKIE = 'seamledger_wall';

/** Finds the feed of a token and counts the request against its limit; bound by the feeds feature. */
export type FeedReader = { take(token: string): Promise<{ feed: Feed; waitMs: number } | null> };
export const FEED_READER = Symbol('FEED_READER');

/** Deny by default: a handler without a contract is refused, then session, role and origin are checked. */
@Injectable()
export class AccessGuard implements CanActivate {
  constructor(@Inject(SESSION_READER) private readonly sessions: SessionReader, @Inject(FEED_READER) private readonly feeds: FeedReader, @Inject(WALL_READER) private readonly walls: WallReader) {}

  async canActivate(context: ExecutionContext): Promise<boolean> {
    const request = context.switchToHttp().getRequest<Request>();
    const definition = definitionOf(context.getHandler());
    if (!definition) throw new Problem('not-allowed', 'This route declares no roles.');
    const changes = definition.method !== 'GET';
    if (changes) refuseOtherOrigin(request);
    const bearer = definition.access === 'public' ? null : /^Bearer\s+(\S{1,200})\s*$/i.exec(request.headers.authorization ?? '')?.[1];
    // A token is no cookie: a browser never sends it by itself, so it needs no x-csrf-token, and a session beside it does not count.
    if (bearer) {
      request.feed = await this.admitFeed(bearer, definition, context.switchToHttp().getResponse<Reply>());
      return true;
    }
    const token = request.cookies[SESSION_COOKIE];
    const session = token ? await this.sessions.find(token) : null;
    if (session) request.session = session;
    if (definition.access === 'public') return true;
    if (definition.access === 'wall' && (await this.isWall(request))) return true;
    if (!session) throw new Problem('not-signed-in');
    if (definition.access === 'wall') throw new Problem('not-allowed', 'This is for wall screens: an administrator makes a token for one under Set-up.');
    if (!definition.access.includes(session.person.role)) throw new Problem('not-allowed', `This needs one of these roles: ${definition.access.join(', ')}.`);
    if (changes && !sameText(request.headers['x-csrf-token'], session.csrf)) throw new Problem('request-forgery', 'The header x-csrf-token is missing or old: load the page again.');
    return true;
  }

  private async admitFeed(token: string, { feed: scope }: Endpoint, reply: Reply): Promise<Feed> {
    const taken = await this.feeds.take(token);
    if (!taken) throw new Problem('token-refused', 'An engineer makes tokens under Set-up, Feeds.');
    if (taken.waitMs > 0) {
      void reply.header('retry-after', String(Math.ceil(taken.waitMs / 1000)));
      throw new Problem('too-many-requests');
    }
    if (!scope) throw new Problem('not-allowed', 'No token may do this: it needs a person who is signed in.');
    if (!taken.feed.scopes.includes(scope)) throw new Problem('not-allowed', `This needs a token with the scope "${scope}"; this one has ${taken.feed.scopes.join(', ')}.`);
    return taken.feed;
  }

  private async isWall(request: Request): Promise<boolean> {
    const token = request.cookies[WALL_COOKIE];
    const wall = token ? await this.walls.find(token) : null;
    if (wall) request.wall = wall;
    return wall !== null;
  }
}

/** A browser says where a request comes from; a page of another site is refused even before the token is looked at. */
function refuseOtherOrigin(request: Request): void {
  const origin = request.headers.origin;
  if (origin === undefined) return;
  const host = URL.canParse(origin) ? new URL(origin).host : '';
  if (host !== request.headers.host) throw new Problem('request-forgery');
}

function sameText(given: string | string[] | undefined, expected: string): boolean {
  if (typeof given !== 'string') return false;
  const [a, b] = [Buffer.from(given), Buffer.from(expected)];
  return a.length === b.length && timingSafeEqual(a, b);
}
