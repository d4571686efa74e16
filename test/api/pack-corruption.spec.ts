import fc from 'fast-check';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { getPackJson } from '#contract/packs';
import { freezePack } from '../../apps/api/src/flows/packs/freeze-pack.js';
import { storePack } from '../../apps/api/src/flows/packs/make-pack.js';
import { NoPack, verifyPack } from '../../apps/api/src/flows/packs/verify-pack.js';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePackPlant, type PackPlant } from '../factories/packs.js';

// Whatever happens to one byte of a pack's file, or to one stored number that it rests on, is found.
let database: TestDatabase;
let api: TestApi;
let plant: PackPlant;
let text: string;
const now = new Date('2026-06-01T00:00:00Z');
beforeAll(async () => {
  database = await freshDatabase();
  api = await startApi(database);
  plant = await makePackPlant(database.work, api);
  const actor = { plantId: plant.plantId, userId: plant.users.engineer, name: 'Test engineer' };
  const content = await freezePack(database.work, plant.plantId, { customer: 'Test customer', title: 'corrupted', products: [plant.productId], studies: [], from: '2026-03-01T00:00:00Z', to: '2026-03-04T00:00:00Z' }, { id: actor.userId, name: actor.name }, now);
  const id = await storePack(database.work, actor, content, null);
  text = (await api.as('auditor').raw({ method: 'GET', url: getPackJson.path.replace(':id', String(id)) })).text;
}, 180_000);
afterAll(async () => { await api.close(); await database.close(); });

const verified = async (file: string): Promise<'equal' | 'differs' | 'no pack'> => {
  try {
    return (await verifyPack(database.work, plant.plantId, file, now)).equal ? 'equal' : 'differs';
  } catch (error) {
    if (error instanceof NoPack) return 'no pack';
    throw error;
  }
};

it('finds nothing in what is untouched', async () => { expect(await verified(text)).toBe('equal'); });

it('finds 150 random changes of one character of the file', async () => {
  await fc.assert(fc.asyncProperty(fc.nat({ max: text.length - 1 }), fc.constantFrom('0', '1', '7', 'x', ' ', '"', '}', ','), fc.constantFrom('replace', 'insert', 'remove'), async (at, character, how) => {
    fc.pre(how !== 'replace' || text[at] !== character);
    const changed = text.slice(0, at) + (how === 'remove' ? '' : character) + text.slice(how === 'insert' ? at : at + 1);
    expect(await verified(changed), `${how} ${character} at ${at}`).not.toBe('equal');
  }), { numRuns: 150, seed: 20261126 });
}, 300_000);

it('finds 150 random changes of stored readings, their header or the specification, made past the program', async () => {
  const groups = await database.work.client.$queryRaw<{ stream_id: number; taken_at: Date; sequence: number; check_id: number; size: number }[]>`SELECT stream_id, taken_at, sequence, check_id, cardinality(readings) AS size FROM subgroup WHERE plant_id = ${plant.plantId} AND taken_at < '2026-03-04T00:00:00Z' ORDER BY stream_id, taken_at, sequence`;
  class Undo extends Error {}
  await fc.assert(fc.asyncProperty(fc.nat({ max: groups.length - 1 }), fc.nat(), fc.constantFrom('reading', 'digit', 'moment', 'check', 'gone', 'gauge', 'formula', 'specification'), async (index, place, how) => {
    const group = groups[index] as (typeof groups)[number];
    const at = (place % group.size) + 1;
    let found = '';
    await database.work.client.$transaction(async (tx) => {
      await tx.$executeRawUnsafe("SET LOCAL session_replication_role = 'replica'");
      const where = `plant_id = ${plant.plantId} AND stream_id = ${group.stream_id} AND taken_at = '${group.taken_at.toISOString()}' AND sequence = ${group.sequence}`;
      const statements = {
        reading: `UPDATE subgroup SET readings[${at}] = readings[${at}] + 0.0001 WHERE ${where}`, digit: `UPDATE subgroup SET readings[${at}] = readings[${at}] * (1 + 1e-15) WHERE ${where}`, moment: `UPDATE subgroup SET taken_at = taken_at + interval '1 millisecond' WHERE ${where}`,
        check: `UPDATE "check" SET voided_at = now() WHERE plant_id = ${plant.plantId} AND id = ${group.check_id}`, gone: `DELETE FROM subgroup WHERE ${where}`, gauge: `UPDATE subgroup SET gauge_id = ${plant.gaugeId} WHERE ${where}`,
        formula: `UPDATE subgroup SET formula = 'other' WHERE ${where}`, specification: `UPDATE specification SET usl = usl + 0.01 WHERE plant_id = ${plant.plantId} AND revision = 1 AND characteristic_id IN (SELECT characteristic_id FROM stream WHERE plant_id = ${plant.plantId} AND id = ${group.stream_id})`,
      };
      expect(await tx.$executeRawUnsafe(statements[how])).toBeGreaterThan(0);
      // The verification opens its own transaction: here it must see this one, which is undone afterwards.
      const seen = { read: tx, run: (steps: (inner: unknown) => Promise<unknown>) => steps(new Proxy(tx, { get: (target, name) => (name === '$executeRaw' ? async () => 0 : Reflect.get(target, name)) })) };
      const verification = await verifyPack(seen as never, plant.plantId, text, now);
      found = verification.differences[0]?.kind ?? '';
      expect(verification.equal, `${how} of reading ${at} of ${JSON.stringify(group)}`).toBe(false);
      expect(verification.stale).toBe(true);
      throw new Undo();
    }, { timeout: 60_000 }).catch((error: unknown) => { if (!(error instanceof Undo)) throw error; });
    expect(['altered', 'added', 'removed']).toContain(found);
  }), { numRuns: 150, seed: 20261126 });
  expect(await verified(text)).toBe('equal');
}, 600_000);
