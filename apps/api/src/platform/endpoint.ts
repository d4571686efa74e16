import { applyDecorators, createParamDecorator, Delete, type ExecutionContext, Get, HttpCode, Post, Put, SetMetadata } from '@nestjs/common';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { type Endpoint as Definition } from '#contract/endpoint';
import { Problem } from '#contract/problem';
import type { Person } from '#contract/users';
import { fieldErrors } from './field-errors.js';

export const DEFINITION = 'seamledger:endpoint';
export type Session = { plantId: number; tokenHash: string; csrf: string; person: Person; timeZone: string };
/** A screen on the wall: it may see its plant's board. */
export type Wall = { plantId: number; plant: string; timeZone: string; screen: string };
export type Request = FastifyRequest & { session?: Session; wall?: Wall };
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
    const parsed = shape.safeParse(value ?? {});
    if (!parsed.success) throw new Problem('invalid-input', undefined, fieldErrors(parsed.error, part === 'body' ? '' : part));
    return parsed.data;
  };
  return { params: parse('params', request.params), query: parse('query', request.query), body: parse('body', request.body) };
});

/** The signed-in session; the access guard has already refused requests without one. */
export const SignedIn = createParamDecorator((_data: unknown, context: ExecutionContext) => {
  const { session } = context.switchToHttp().getRequest<Request>();
  if (!session) throw new Problem('not-signed-in');
  return session;
});

/** The wall screen that asks, likewise. */
export const AtWall = createParamDecorator((_data: unknown, context: ExecutionContext) => {
  const { wall } = context.switchToHttp().getRequest<Request>();
  if (!wall) throw new Problem('not-signed-in');
  return wall;
});
