import { setTimeout } from 'node:timers/promises';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { asProblem } from '../../apps/api/src/platform/problem.filter.js';
import { retryContention } from '../../apps/api/src/platform/retry-contention.js';
import { type Tx, Work } from '../../apps/api/src/platform/work.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';

// Named statements of a transaction go past Prisma by the transaction's own connection: all or nothing must hold as for the others.
let database: TestDatabase;
beforeAll(async () => { database = await freshDatabase(); });
afterAll(() => database.close());

const add = (tx: Tx, name: string) => tx.$executeRaw`/* named: add-plant */ INSERT INTO plant (name, time_zone) VALUES (${name}, 'UTC')`;
const backend = async (tx: Pick<Tx, '$queryRaw'>) => (await tx.$queryRaw<{ pid: number }[]>`/* named: backend */ SELECT pg_backend_pid() AS pid`)[0]?.pid;
const plainBackend = async (tx: Pick<Tx, '$queryRaw'>) => (await tx.$queryRaw<{ pid: number }[]>`SELECT pg_backend_pid() AS pid`)[0]?.pid;
const known = async (name: string) => (await database.work.client.plant.findMany({ where: { name } })).length;
/** Connections that were left in a transaction. */
const leftOpen = async () => Number((await database.work.client.$queryRaw<{ count: number }[]>`SELECT count(*)::int AS count FROM pg_stat_activity WHERE datname = current_database() AND state LIKE 'idle in transaction%'`)[0]?.count);

it('says everything by one connection in one transaction, each of several at once by its own', async () => {
  const pids = await Promise.all(Array.from({ length: 4 }, (_, index) => database.work.run(async (tx) => {
    const before = await backend(tx);
    await setTimeout(20 * (index % 2));
    await add(tx, 'at once');
    expect(await plainBackend(tx)).toBe(before);
    expect(await backend(tx)).toBe(before);
    return before;
  })));
  expect(new Set(pids).size).toBe(4);
  expect(await known('at once')).toBe(4);
});

it('tells how many rows it wrote, and keeps none when a later step fails, by whichever way', async () => {
  await expect(database.work.run(async (tx) => {
    expect(await add(tx, 'taken back')).toBe(1);
    await tx.plant.create({ data: { name: 'taken back', timeZone: 'UTC' } });
    throw new Error('a later step');
  })).rejects.toThrow('a later step');
  await expect(database.work.run(async (tx) => {
    await tx.plant.create({ data: { name: 'taken back', timeZone: 'UTC' } });
    await tx.$executeRaw`/* named: twice */ INSERT INTO plant (id, name, time_zone) SELECT id, 'taken back', 'UTC' FROM plant`;
  })).rejects.toMatchObject({ code: '23505' });
  expect(await known('taken back')).toBe(0);
  expect(await leftOpen()).toBe(0);
});

it('stores nothing of a transaction that took too long, neither before nor after its end', async () => {
  let late: unknown;
  const running = database.work.run(async (tx) => {
    await add(tx, 'too late');
    await setTimeout(400);
    late = await add(tx, 'too late').catch((error: unknown) => error);
    throw late;
  }, 100);
  const failure = await running.catch((error: unknown) => error);
  expect(late).toMatchObject({ code: 'P2028' });
  expect(asProblem(failure).code).toBe('database-unavailable');
  expect(await known('too late')).toBe(0);
});

it('lets nobody speak in a transaction that has been committed', async () => {
  const kept = await database.work.run(async (tx) => { await add(tx, 'committed'); return { tx }; });
  await expect(add(kept.tx, 'committed')).rejects.toMatchObject({ code: 'P2028' });
  expect(await known('committed')).toBe(1);
});

it('says of a connection that broke that the database is not there, and goes on with the next', async () => {
  const failure = await database.work.run(async (tx) => {
    await add(tx, 'broken');
    await database.work.client.$queryRaw`SELECT pg_terminate_backend(${await backend(tx)}::int)::text AS gone`;
    await setTimeout(50);
    await add(tx, 'broken');
  }).catch((error: unknown) => error);
  expect(failure).toMatchObject({ code: '08006' });
  expect(asProblem(failure).code).toBe('database-unavailable');
  expect(await known('broken')).toBe(0);
  for (let time = 0; time < 6; time += 1) await database.work.run((tx) => add(tx, 'after it'));
  expect(await known('after it')).toBe(6);
});

it('tries again where two transactions wait for each other', async () => {
  const ids = await Promise.all(['one', 'other'].map(async (name) => (await database.work.client.plant.create({ data: { name, timeZone: 'UTC' } })).id));
  let tries = 0;
  const both = async (order: readonly (number | undefined)[]) => retryContention(() => database.work.run(async (tx) => {
    tries += 1;
    for (const id of order) {
      await tx.$executeRaw`/* named: touch-plant */ UPDATE plant SET name = name || '+' WHERE id = ${id}`;
      await setTimeout(100);
    }
  }));
  await Promise.all([both(ids), both([...ids].reverse())]);
  expect(tries).toBeGreaterThan(2);
  expect([await known('one++'), await known('other++')]).toEqual([1, 1]);
});

it('goes on in the transaction that has begun, where acts are put together', async () => {
  await expect(database.work.run(async (tx) => {
    await database.work.within(tx).run((inner) => add(inner, 'within'));
    expect((await database.work.within(tx).read.$queryRaw<unknown[]>`/* named: plants-within */ SELECT id FROM plant WHERE name = ${'within'}`)).toHaveLength(1);
    throw new Error('taken back');
  })).rejects.toThrow('taken back');
  expect(await known('within')).toBe(0);
});

it('leaves everything to Prisma behind a pooler in transaction mode', async () => {
  const pooled = new Work(`${database.url}?pgbouncer=true`, 2);
  try {
    await pooled.run((tx) => add(tx, 'pooled'));
    expect(await known('pooled')).toBe(1);
    expect(await pooled.client.$queryRaw`SELECT name FROM pg_prepared_statements WHERE name <> ''`).toEqual([]);
  } finally {
    await pooled.close();
  }
});
