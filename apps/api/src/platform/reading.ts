import { Prisma } from './generated/client.js';

/**
 * A read that is asked alone, or as one part of a larger statement: a page that needs several then waits for one way to the
 * database and back, and all of its parts are of the same moment. `moments` are the columns with time, which come as text in a part.
 */
export type Reading<Row> = { sql: Prisma.Sql; moments: readonly (keyof Row & string)[] };

/** The rows as one JSON value, in their order. */
export const asPart = ({ sql }: { sql: Prisma.Sql }): Prisma.Sql => Prisma.sql`(SELECT coalesce(json_agg(part), '[]') FROM (${sql}) part)`;

/** The rows of a part, as the same read asked alone gives them; the rows themselves are changed. */
export function rowsOf<Row extends object>({ moments }: Reading<Row>, part: Row[]): Row[] {
  for (const row of part) for (const column of moments) if (row[column] !== null) Reflect.set(row, column, new Date(String(row[column])));
  return part;
}
