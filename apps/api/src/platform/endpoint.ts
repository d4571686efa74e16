import { applyDecorators, createParamDecorator, Delete, type ExecutionContext, Get, HttpCode, Post, Put, SetMetadata } from '@nestjs/common';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { type Endpoint as Definition } from '#contract/endpoint';
import { Problem } from '#contract/problem';
import type { FeedScope } from '#contract/roles';
import type { Person } from '#contract/users';
import type { Actor } from './audit.js';
import type { Scope } from './scope.js';
import { parseInput } from './field-errors.js';
import { unkeepableText } from './unkeepable-text.js';

export const DEFINITION = 'seamledger:endpoint';
/** `scope`: an auditor's; null for everybody else, and for an auditor that has none, whom the access guard lets see nothing. */
export type Session = { plantId: number; tokenHash: string; csrf: string; person: Person; timeZone: string; scope: Scope | null; locked: boolean };
/** Who sent a request by a token: a gauge, a monitor or a script. No machines: all of the plant. */
export type Feed = { plantId: number; tokenId: number; name: string; scopes: readonly FeedScope[]; machineIds: readonly number[]; timeZone: string };
/** A screen on the wall: it may see its plant's board. */
export type Wall = { plantId: number; plant: string; timeZone: string; screen: string };
export type Request = FastifyRequest & { session?: Session; feed?: Feed; wall?: Wall };
export type Reply = FastifyReply;

/** Routes a handler by its contract: method, path, status and access come from there. */
export function Endpoint(definition: Definition) {
  const route = { GET: Get, POST: Post, PUT: Put, DELETE: Delete }[definition.method];
  return applyDecorators(route(definition.path), HttpCode(definition.status ?? 200), SetMetadata(DEFINITION, definition));
}

export const definitionOf = (handler: object): Definition | undefined => Reflect.getMetadata(DEFINITION, handler) as Definition | undefined;

/**
 * { params, query, body }, parsed by the contract; what does not fit is a problem that names each field.
 * `except: 'body'` leaves the body to the handler.
 */
export const Input = createParamDecorator((data: { except: 'body' } | undefined, context: ExecutionContext) => {
  const definition = definitionOf(context.getHandler());
  const request = context.switchToHttp().getRequest<Request>();
  if (!definition) throw new Problem('internal');
  const parse = (part: 'params' | 'query' | 'body', value: unknown) => {
    const shape = definition[part];
    if (!shape || (part === 'body' && (definition.bodyType === 'multipart' || data?.except === 'body'))) return undefined;
    if (part !== 'body') refuseUnkeepable(part, value);
    const parsed = parseInput(shape, value ?? {}, part === 'body' ? '' : part);
    if (parsed.errors) throw new Problem('invalid-input', undefined, parsed.errors);
    return parsed.data;
  };
  return { params: parse('params', request.params), query: parse('query', request.query), body: parse('body', request.body) };
});

/** Bodies are looked through when they are read. */
function refuseUnkeepable(part: string, value: unknown): void {
  const place = unkeepableText(value);
  if (place !== null) throw new Problem('invalid-input', undefined, [{ field: `${part}.${place}`, expected: 'text without the character U+0000' }]);
}

/** The signed-in session; the access guard has already refused requests without one. */
export const SignedIn = createParamDecorator((_data: unknown, context: ExecutionContext) => {
  const { session } = context.switchToHttp().getRequest<Request>();
  if (!session) throw new Problem('not-signed-in');
  return session;
});

/** Who acts. `source`: a person (entry) or a token (feed); of what is stored, checks alone keep it. `machineIds`: the machines that a token is for; null: it names none, as a person does not. */
export type Acting = { plantId: number; actor: Actor; source: 'entry' | 'feed'; machineIds: readonly number[] | null };

/** For endpoints that take tokens, too. The access guard has already refused requests with neither. */
export const ActingBy = createParamDecorator((_data: unknown, context: ExecutionContext): Acting => {
  const { session, feed } = context.switchToHttp().getRequest<Request>();
  if (feed) return { plantId: feed.plantId, actor: { plantId: feed.plantId, userId: null, name: `${feed.name} (token ${feed.tokenId})` }, source: 'feed', machineIds: feed.machineIds.length > 0 ? feed.machineIds : null };
  if (!session) throw new Problem('not-signed-in');
  return { plantId: session.plantId, actor: { plantId: session.plantId, userId: session.person.id, name: session.person.name }, source: 'entry', machineIds: null };
});

/** The wall screen that asks, likewise. */
export const AtWall = createParamDecorator((_data: unknown, context: ExecutionContext) => {
  const { wall } = context.switchToHttp().getRequest<Request>();
  if (!wall) throw new Problem('not-signed-in');
  return wall;
});
