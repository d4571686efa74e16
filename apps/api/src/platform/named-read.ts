import pg from 'pg';
import { Prisma } from './generated/client.js';

/**
 * A statement that begins with this comment is prepared once a connection: for long ones that are asked often. Its text must always be the
 * same. "named": PostgreSQL plans it for its parameters while that seems cheaper. "planned once": always by the plan that fits any parameters.
 */
const NAMED = /^\s*\/\* (named|planned once): ([a-z-]+) \*\//;
export const nameOf = (text: string): string => NAMED.exec(text)?.[2] ?? '';

type Raw = (query: TemplateStringsArray | Prisma.Sql, ...values: unknown[]) => Promise<unknown[]>;
type Parser = (text: string) => unknown;

const asText: Parser = (text) => text;
const parserOf = (type: number): Parser => pg.types.getTypeParser(type, 'text') as Parser;
const { BOOL, INT2, INT4, INT8, FLOAT4, FLOAT8, TEXT, VARCHAR, JSON: JSON_TYPE, JSONB, TIMESTAMPTZ } = pg.types.builtins;
const INT4_ARRAY = 1007;
const TEXT_ARRAY = 1009;
const FLOAT8_ARRAY = 1022;
/** The types that answers of named reads are made of, as Prisma gives them; no other one comes out as something else unseen. */
const PARSERS = new Map<number, Parser>([
  ...[BOOL, INT2, INT4, FLOAT4, FLOAT8, JSON_TYPE, JSONB, TIMESTAMPTZ, INT4_ARRAY, TEXT_ARRAY, FLOAT8_ARRAY].map((type) => [type, parserOf(type)] as const),
  [TEXT, asText], [VARCHAR, asText], [INT8, BigInt],
]);

/** Thrown by the row, not by its description: the client library passes on the former, and the latter would end the program. */
const refuse = (type: number): Parser => () => { throw new RangeError(`namedRead: needs columns of the types in platform/named-read.ts, type ${type} given`); };
const types = { getTypeParser: (type: number): Parser => PARSERS.get(type) ?? refuse(type) } as pg.CustomTypesConfig;

/**
 * Connections for what is planned once. Few, and kept: planning the Now board takes several times as long as reading it, and PostgreSQL
 * would plan it anew five times a connection before it tries the general plan.
 */
export function poolOfReaders(connectionString: string, max: number): pg.Pool {
  return new pg.Pool({ connectionString, max, idleTimeoutMillis: 600_000, onConnect: async (client) => { await client.query('SET plan_cache_mode = force_generic_plan'); } });
}

/**
 * `$queryRaw` for reads outside a transaction: named statements go to a pool straight away, all others to Prisma, which
 * takes a quarter of a millisecond a statement (measured) and changes neither texts nor rows. Errors are the client library's.
 */
export function namedRead(pool: pg.Pool, readers: pg.Pool, usual: Raw): Raw {
  return async (query, ...values) => {
    const { text, values: given } = query instanceof Prisma.Sql ? query : Prisma.sql(query, ...values);
    const [, how, name] = NAMED.exec(text) ?? [];
    if (name === undefined) return usual(query, ...values);
    return (await (how === 'named' ? pool : readers).query<pg.QueryResultRow>({ name, text, values: given, types })).rows;
  };
}
