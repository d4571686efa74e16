import { createHash, randomBytes } from 'node:crypto';
import pg from 'pg';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { record } from '../../apps/api/src/platform/audit.js';
import { chainHead, linkHash, rowText, verifyAuditChain } from '../../apps/api/src/platform/audit-chain.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';

// The trail is a chain: whoever changes the tables behind the program's back is found out, row by row.
const ROWS = 400;
let database: TestDatabase;
let raw: pg.Client;
beforeAll(async () => {
  database = await freshDatabase();
  raw = new pg.Client({ connectionString: database.url });
  await raw.connect();
  for (let done = 0; done < ROWS; done += 40) {
    await database.work.run(async (tx) => {
      for (let each = 0; each < 40; each += 1) await record(tx, { plantId: 1, userId: each % 3 === 0 ? null : each, name: `Ärmel ${each}` }, 'reading.corrected', `check ${done + each}`, { before: { value: each / 7 }, ...(each % 2 === 0 ? { after: { value: each, reason: 'slipped; "decimal"' } } : {}) });
    });
  }
});
afterAll(async () => { await raw.end(); await database.close(); });

/** Deterministic numbers in 0..1. */
function numbers(seed: number): () => number {
  let state = seed;
  return () => { state = (state * 1_664_525 + 1_013_904_223) % 4_294_967_296; return state / 4_294_967_296; };
}

it('links every row in the order of commits, and verifies', async () => {
  const answer = await verifyAuditChain(database.work.read, 1);
  expect(answer.faults).toEqual([]);
  expect(answer.rows).toBe(ROWS);
  expect(answer.head).toEqual(await chainHead(database.work.read, 1));
});

it('hashes as sha256sum of GNU coreutils does', () => {
  // printf '3:abc' | sha256sum, then the 32 bytes of it followed by '1:d;N'.
  expect(linkHash('', ['abc'])).toBe('aab5f9ae99b2e38fb462025c8f72f570c9c811705d2a4277dc855d7fa293fe97');
  expect(linkHash('aab5f9ae99b2e38fb462025c8f72f570c9c811705d2a4277dc855d7fa293fe97', ['d', null])).toBe('d0097f3b2b5c20c55bf8e57c6697d3d5b25253f078c5f1b66d94cd449cb0b0d7');
  expect(rowText(['abc', null, ''])).toBe('3:abc;N;0:');
  expect(rowText(['a', 'b'])).not.toBe(rowText(['ab', '']));
});

it('keeps rows of transactions that ran at the same time in one chain', async () => {
  const before = (await verifyAuditChain(database.work.read, 2)).rows;
  await Promise.all(Array.from({ length: 40 }, (_, index) => database.work.run(async (tx) => {
    await record(tx, { plantId: 2, userId: index, name: 'A. Person' }, 'gauge.changed', `gauge ${index}`);
    await record(tx, { plantId: 2, userId: index, name: 'A. Person' }, 'gauge.changed', `gauge ${index} again`);
  })));
  const answer = await verifyAuditChain(database.work.read, 2);
  expect(answer.rows).toBe(before + 80);
  expect(answer.faults).toEqual([]);
});

it('leaves no link of a transaction that was rolled back', async () => {
  await expect(database.work.run(async (tx) => { await record(tx, { plantId: 3, userId: 1, name: 'A. Person' }, 'gauge.made', 'gauge 1'); throw new Error('no'); })).rejects.toThrow('no');
  expect(await verifyAuditChain(database.work.read, 3)).toEqual({ rows: 0, head: null, faults: [] });
});

it('compares every head that was noted of one place, whatever the others say', async () => {
  const head = await chainHead(database.work.read, 1);
  const [kept, forged] = [{ seq: head?.seq ?? '', hash: head?.hash ?? '', notedBy: 'paper' }, { seq: head?.seq ?? '', hash: 'f'.repeat(64), notedBy: 'signature 3' }];
  for (const noted of [[kept, forged], [forged, kept]]) expect((await verifyAuditChain(database.work.read, 1, noted)).faults).toMatchObject([{ kind: 'other-head', notedBy: 'signature 3' }]);
  const beyond = [kept, forged].map((each) => ({ ...each, seq: String(ROWS + 1) }));
  expect((await verifyAuditChain(database.work.read, 1, beyond)).faults.map(({ notedBy }) => notedBy)).toEqual(['paper', 'signature 3']);
});

it('refuses to change a link or a row', async () => {
  await expect(raw.query("UPDATE audit_link SET hash = '\\x00' WHERE plant_id = 1")).rejects.toThrow('never changed');
  await expect(raw.query('DELETE FROM audit_row WHERE plant_id = 1')).rejects.toThrow('never changed');
  await expect(raw.query('TRUNCATE audit_link')).rejects.toThrow('never changed');
});

it('detects each of 400 random corruptions made past the triggers', { timeout: 240_000 }, async () => {
  const random = numbers(20_261_126);
  const head = await chainHead(database.work.read, 1);
  const ids = (await raw.query<{ id: string }>('SELECT id FROM audit_row WHERE plant_id = 1 ORDER BY id')).rows.map((row) => row.id);
  const acts: ((id: string) => string)[] = [
    (id) => `UPDATE audit_row SET actor = actor || 'x' WHERE plant_id = 1 AND id = ${id}`,
    (id) => `UPDATE audit_row SET at = at + interval '1 millisecond' WHERE plant_id = 1 AND id = ${id}`,
    (id) => `UPDATE audit_row SET user_id = COALESCE(user_id, 0) + 1 WHERE plant_id = 1 AND id = ${id}`,
    (id) => `UPDATE audit_row SET before = jsonb_set(before, '{value}', '${random()}') WHERE plant_id = 1 AND id = ${id}`,
    (id) => `UPDATE audit_row SET after = CASE WHEN after IS NULL THEN '{}'::jsonb END WHERE plant_id = 1 AND id = ${id}`,
    (id) => `UPDATE audit_row SET action = 'reading.recorded' WHERE plant_id = 1 AND id = ${id}`,
    (id) => `UPDATE audit_row SET subject = subject || ' ' WHERE plant_id = 1 AND id = ${id}`,
    (id) => `DELETE FROM audit_row WHERE plant_id = 1 AND id = ${id}`,
    (id) => `DELETE FROM audit_link WHERE plant_id = 1 AND audit_id = ${id}`,
    (id) => `UPDATE audit_link SET hash = '\\x${randomBytes(32).toString('hex')}' WHERE plant_id = 1 AND audit_id = ${id}`,
    (id) => `WITH gone AS (DELETE FROM audit_row WHERE plant_id = 1 AND id = ${id}) DELETE FROM audit_link WHERE plant_id = 1 AND audit_id = ${id}`,
    (id) => `WITH gone AS (DELETE FROM audit_row WHERE plant_id = 1 AND id >= ${id}) DELETE FROM audit_link WHERE plant_id = 1 AND audit_id >= ${id}`,
    () => "INSERT INTO audit_row (plant_id, actor, action, subject) VALUES (1, 'nobody', 'limits.frozen', 'stream 1')",
  ];
  const missed: string[] = [];
  for (let round = 0; round < 400; round += 1) {
    const act = (acts[round % acts.length] as (id: string) => string)(ids[Math.floor(random() * ids.length)] as string);
    await raw.query('BEGIN');
    await raw.query("SET LOCAL session_replication_role = 'replica'"); // switches triggers off, as somebody with the database's password could
    await raw.query(act);
    const seen = await verifyAuditChain(rawReader(), 1, head ? [{ ...head, notedBy: 'paper' }] : []);
    if (seen.faults.length === 0) missed.push(act);
    await raw.query('ROLLBACK');
  }
  expect(missed).toEqual([]);
  expect((await verifyAuditChain(database.work.read, 1)).faults).toEqual([]);
});

it('finds who computes every link behind a change anew only by a head that was noted before', async () => {
  const head = await chainHead(database.work.read, 1);
  await raw.query('BEGIN');
  await raw.query("SET LOCAL session_replication_role = 'replica'");
  await raw.query("UPDATE audit_row SET actor = 'somebody else' WHERE plant_id = 1 AND id = (SELECT audit_id FROM audit_link WHERE plant_id = 1 AND seq = 7)");
  const { rows } = await raw.query<{ seq: string; text: string }>('SELECT l.seq, audit_text(a) AS text FROM audit_link l JOIN audit_row a ON a.plant_id = l.plant_id AND a.id = l.audit_id WHERE l.plant_id = 1 ORDER BY l.seq');
  let hash = Buffer.alloc(0);
  for (const { seq, text } of rows) {
    hash = createHash('sha256').update(hash).update(text, 'utf8').digest();
    await raw.query('UPDATE audit_link SET hash = $1 WHERE plant_id = 1 AND seq = $2', [hash, seq]);
  }
  expect((await verifyAuditChain(rawReader(), 1)).faults).toEqual([]);
  expect((await verifyAuditChain(rawReader(), 1, head ? [{ ...head, notedBy: 'paper' }] : [])).faults).toMatchObject([{ kind: 'other-head', notedBy: 'paper' }]);
  await raw.query('ROLLBACK');
});

/** The reader of the verification, on the connection that holds the corruption. */
function rawReader() {
  const read = (strings: TemplateStringsArray, ...values: unknown[]) => raw.query(strings.reduce((sql, part, index) => `${sql}$${index}${part}`), values).then(({ rows }) => rows.map((row) => ({ ...row, ...(row.seq === undefined ? {} : { seq: BigInt(row.seq) }) })));
  return { $queryRaw: read } as unknown as Parameters<typeof verifyAuditChain>[0];
}
