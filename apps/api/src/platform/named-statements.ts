import pg from 'pg';
import { Prisma } from './generated/client.js';
import type { OwnConnection } from './own-connection.js';

/**
 * A statement that begins with this comment is prepared once a connection: for long ones that are asked often. Its text must always be the
 * same. "named": PostgreSQL plans it for its parameters while that seems cheaper. "planned once": always by the plan that fits any parameters.
 */
const NAMED = /^\s*\/\* (named|planned once): ([a-z-]+) \*\//;
export const nameOf = (text: string): string => NAMED.exec(text)?.[2] ?? '';

type Raw = (query: TemplateStringsArray | Prisma.Sql, ...values: unknown[]) => Promise<unknown[]>;
type RawCount = (query: TemplateStringsArray | Prisma.Sql, ...values: unknown[]) => Promise<number>;
type Parser = (text: string) => unknown;

const asText: Parser = (text) => text;
const parserOf = (type: number): Parser => pg.types.getTypeParser(type, 'text') as Parser;
const { BOOL, INT2, INT4, INT8, FLOAT4, FLOAT8, TEXT, VARCHAR, JSON: JSON_TYPE, JSONB, TIMESTAMPTZ } = pg.types.builtins;
const INT4_ARRAY = 1007;
const TEXT_ARRAY = 1009;
const FLOAT8_ARRAY = 1022;
/** The types that answers of named statements are made of, as Prisma gives them; no other one comes out as something else unseen. */
const PARSERS = new Map<number, Parser>([
  ...[BOOL, INT2, INT4, FLOAT4, FLOAT8, JSON_TYPE, JSONB, TIMESTAMPTZ, INT4_ARRAY, TEXT_ARRAY, FLOAT8_ARRAY].map((type) => [type, parserOf(type)] as const),
  [TEXT, asText], [VARCHAR, asText], [INT8, BigInt],
]);

/** Thrown by the row, not by its description: the client library passes on the former, and the latter would end the program. */
const refuse = (type: number): Parser => () => { throw new RangeError(`a named statement needs columns of the types in platform/named-statements.ts, type ${type} given`); };
const types = { getTypeParser: (type: number): Parser => PARSERS.get(type) ?? refuse(type) } as pg.CustomTypesConfig;

/**
 * Connections for what is planned once. Few, and kept: planning the Now board takes several times as long as reading it, and PostgreSQL
 * would plan it anew five times a connection before it tries the general plan.
 */
export function poolOfReaders(connectionString: string, max: number): pg.Pool {
  return new pg.Pool({ connectionString, max, idleTimeoutMillis: 600_000, onConnect: async (client) => { await client.query('SET plan_cache_mode = force_generic_plan'); } });
}

type Asked = Pick<pg.Pool, 'query'> | Pick<OwnConnection, 'query'>;
const LOST = /^(?:Connection terminated|Client (?:has encountered a connection error|was closed)|timeout exceeded when trying to connect)/;

/** What a statement that has a name says to PostgreSQL, and how; null for all others. */
function named(query: TemplateStringsArray | Prisma.Sql, values: readonly unknown[]): { how: string; ask: (whom: Asked) => Promise<pg.QueryResult<pg.QueryResultRow>> } | null {
  const { text, values: given } = query instanceof Prisma.Sql ? query : Prisma.sql(query, ...values);
  const [, how, name] = NAMED.exec(text) ?? [];
  if (how === undefined || name === undefined) return null;
  return { how, ask: (whom) => whom.query({ name, text, values: given, types }).catch((error: unknown) => { throw withCode(error); }) };
}

/** The client library gives no code where a connection was lost: connection_failure. */
function withCode(error: unknown): unknown {
  return error instanceof Error && LOST.test(error.message) ? Object.assign(error, { code: '08006' }) : error;
}

/**
 * `$queryRaw` for reads outside a transaction: named statements go to a pool straight away, all others to Prisma, which
 * takes a quarter of a millisecond a statement (measured) and changes neither texts nor rows. Errors are the client library's.
 */
export function namedRead(pool: pg.Pool, readers: pg.Pool, usual: Raw): Raw {
  return async (query, ...values) => {
    const own = named(query, values);
    return own ? (await own.ask(own.how === 'named' ? pool : readers)).rows : usual(query, ...values);
  };
}

/** The same inside a transaction, by its own connection: `$queryRaw`, and `$executeRaw`, which answers how many rows it wrote. */
export function namedWithin(connection: Pick<OwnConnection, 'query'>, usual: { query: Raw; execute: RawCount }): { query: Raw; execute: RawCount } {
  return {
    query: async (query, ...values) => {
      const own = named(query, values);
      return own ? (await own.ask(connection)).rows : usual.query(query, ...values);
    },
    execute: async (query, ...values) => {
      const own = named(query, values);
      return own ? (await own.ask(connection)).rowCount ?? 0 : usual.execute(query, ...values);
    },
  };
}
