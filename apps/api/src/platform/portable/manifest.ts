import { z } from 'zod';

/** Grows when an older program could not read the file any more. */
export const FORMAT = 1;
export const MANIFEST = 'manifest.json';
export const DICTIONARY = 'dictionary.csv';
export const fileOf = (table: string): string => `tables/${table}.csv`;

export const manifest = z.object({
  format: z.literal(FORMAT, `format ${FORMAT}`),
  program: z.literal('seamledger'), version: z.string(), plant: z.string(), at: z.iso.datetime(),
  /** What the tables look like: an installation takes the file when it has applied the same. */
  migrations: z.array(z.string()).min(1),
  head: z.object({ seq: z.string(), hash: z.string() }).nullable(),
  files: z.array(z.object({ name: z.string(), table: z.string().nullable(), rows: z.number().int().nonnegative(), bytes: z.number().int().nonnegative(), sha256: z.string().regex(/^[0-9a-f]{64}$/, '64 digits of 0-9 and a-f') })),
  /** Parts of tables that are cut by time. The bounds go into a statement, so nothing but two texts in quotes is taken. */
  partitions: z.array(z.object({ table: z.string(), name: z.string().regex(/^[a-z0-9_]+$/, 'small letters, digits and underscores'), bounds: z.string().regex(/^(FOR VALUES FROM \('[0-9 :+.-]+'\) TO \('[0-9 :+.-]+'\)|DEFAULT)$/, 'bounds of time such as FOR VALUES FROM (…) TO (…)') })),
  /** Rows that were on their way at that moment and are not in the file: nothing is sent twice. */
  leftOut: z.array(z.object({ table: z.string(), rows: z.number().int().nonnegative() })).default([]),
  /** Columns that are left empty, because they open something: "table.column". */
  withheld: z.array(z.string()),
});
export type Manifest = z.infer<typeof manifest>;
