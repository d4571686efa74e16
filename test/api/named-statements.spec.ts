import { afterAll, beforeAll, expect, it } from 'vitest';
import { readBoard } from '../../apps/api/src/flows/now-board.store.js';
import { Work } from '../../apps/api/src/platform/work.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant } from '../factories/plant.js';

// Named reads go past Prisma: what comes out must not show it.
let database: TestDatabase;
beforeAll(async () => { database = await freshDatabase(); });
afterAll(() => database.close());

const values = [7, 'äö "x"', null, new Date('2026-03-02T07:50:00.123Z'), true, 1.25, [1, 2], ['a,b', '{"c"}', ''], 9_007_199_254_740_993n, JSON.stringify({ a: [1, null], at: '2026-03-02' })] as const;
const everyType = (work: Pick<Work['read'], '$queryRaw'>) => work.$queryRaw`
  /* named: every-type */ SELECT ${values[0]}::int AS number, ${values[0]}::smallint AS small, ${values[1]}::text AS text, ${values[1]}::varchar(20) AS short, ${values[2]}::text AS nothing, ${values[2]}::timestamptz AS never, ${values[3]}::timestamptz AS moment, ${values[4]}::boolean AS yes,
    ${values[5]}::float8 AS float, ${values[5]}::real AS real, ${[...values[6]]}::int[] AS numbers, ${[...values[7]]}::text[] AS texts, ARRAY[1.5, NULL, 'NaN']::float8[] AS floats, ${values[8]}::bigint AS large, ${values[9]}::jsonb AS json, ${values[9]}::json AS plain, '[]'::json AS none, 'NaN'::float8 AS nan`;

it('gives rows as Prisma does, type by type, at the first time and when the statement is prepared', async () => {
  const usual = await everyType(database.work.client);
  for (let time = 0; time < 3; time += 1) expect(await everyType(database.work.read)).toEqual(usual);
  expect(usual).toMatchObject([{ number: 7, text: 'äö "x"', nothing: null, moment: values[3], numbers: [1, 2], large: 9_007_199_254_740_993n, json: { a: [1, null] } }]);
});

it('plans once only what says so, in transactions as elsewhere by its name', async () => {
  const mode = (read: Pick<Work['read'], '$queryRaw'>) => read.$queryRaw`/* named: mode */ SELECT current_setting('plan_cache_mode') AS mode`;
  const general = (read: Pick<Work['read'], '$queryRaw'>) => read.$queryRaw`/* planned once: general-mode */ SELECT current_setting('plan_cache_mode') AS mode, ${[3, 4]}::int[] AS numbers`;
  for (let time = 0; time < 3; time += 1) {
    expect(await Promise.all([mode(database.work.read), general(database.work.read), general(database.work.client)])).toEqual([[{ mode: 'auto' }], [{ mode: 'force_generic_plan', numbers: [3, 4] }], [{ mode: 'auto', numbers: [3, 4] }]]);
  }
  expect(await database.work.run((tx) => general(tx))).toEqual([{ mode: 'auto', numbers: [3, 4] }]);
});

it('refuses a type that nobody has looked at, names it, and leaves the connection in order', async () => {
  for (let time = 0; time < 6; time += 1) {
    await expect(database.work.read.$queryRaw`/* named: odd-type */ SELECT 1.5::numeric AS odd FROM generate_series(1, 3)`).rejects.toThrow('type 1700');
    expect(await everyType(database.work.read)).toHaveLength(1);
  }
});

it('passes the code of the database on, and goes on after it', async () => {
  await expect(database.work.read.$queryRaw`/* named: broken */ SELECT 1 / ${0}::int AS broken`).rejects.toMatchObject({ code: '22012' });
  for (let time = 0; time < 6; time += 1) expect(await everyType(database.work.read)).toHaveLength(1);
});

it('keeps transactions apart: what is not committed is seen inside alone', async () => {
  const plants = (read: Pick<Work['read'], '$queryRaw'>) => read.$queryRaw<{ name: string }[]>`/* named: plants */ SELECT name FROM plant WHERE name = ${'Not yet'}`;
  const { inside, outside } = await database.work.run(async (tx) => {
    await tx.plant.create({ data: { name: 'Not yet', timeZone: 'UTC' } });
    return { inside: await plants(tx), outside: await plants(database.work.read) };
  });
  expect([inside, outside]).toEqual([[{ name: 'Not yet' }], []]);
  expect(await plants(database.work.read)).toEqual([{ name: 'Not yet' }]);
});

it('works behind a pooler in transaction mode and with one connection, and says the same', async () => {
  const { plantId } = await makePlant(database.work);
  const now = new Date('2026-03-02T08:00:00Z');
  const [pooled, single] = [new Work(`${database.url}?pgbouncer=true`, 2), new Work(database.url, 1)];
  try {
    const board = await readBoard(database.work.read, plantId, now);
    expect(board.machines.map(({ code }) => code)).toEqual(['BM1', 'BM2', 'FL1', 'SE1']);
    for (const work of [pooled, single]) expect(await Promise.all([readBoard(work.read, plantId, now), readBoard(work.read, plantId, now)])).toEqual([board, board]);
    const named = await pooled.client.$queryRaw<{ name: string }[]>`SELECT name FROM pg_prepared_statements WHERE name <> ''`;
    expect(named).toEqual([]);
  } finally {
    await pooled.close(); await pooled.close(); await single.close();
  }
});
