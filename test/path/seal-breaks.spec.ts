import { afterAll, beforeAll, beforeEach, expect, it } from 'vitest';
import { type Correction, newCheck } from '#contract/inspections';
import { correctReading } from '../../apps/api/src/flows/correct-reading.js';
import { recordMonitorSubgroups } from '../../apps/api/src/flows/monitor-subgroups.js';
import { recordReadings } from '../../apps/api/src/flows/record-readings.js';
import { undoImport } from '../../apps/api/src/flows/undo-import.js';
import { verifyRecords } from '../../apps/api/src/flows/verify-records.js';
import { addCheckPhotos, removeCheckPhoto } from '../../apps/api/src/inspections/add-check-photos.js';
import { listTheseAsStored } from '../../apps/api/src/inspections/check-seals.store.js';
import { listAudit, record } from '../../apps/api/src/platform/audit.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { pngOf } from '../factories/photo-form.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

// An act that seals a check anew notes what it found: a reading changed in the tables before it does not pass for right by that act.
let database: TestDatabase;
let plant: TestPlant;
beforeAll(async () => { database = await freshDatabase(); plant = await makePlant(database.work); await sql("SELECT setval(pg_get_serial_sequence('\"check\"', 'id'), 100)"); }, 120_000);
afterAll(() => database.close());

const now = new Date('2026-06-01T00:00:00Z');
const actor = () => ({ plantId: plant.plantId, userId: plant.users.technician, name: 'Test technician' });
let checks = 0;
const nextCheck = () => {
  checks += 1;
  return newCheck.parse({
    key: `broken-${checks}`, machineId: plant.machines.seamer, productId: plant.productId, takenAt: new Date(Date.UTC(2026, 2, 1, checks)).toISOString(), cans: plant.headIds.map((unitId, place) => ({ number: place + 1, unitId })), positions: ['60°', '180°'],
    characteristics: [{ code: 'body-hook', readings: plant.headIds.flatMap(() => [1.75, 1.76]) }, { code: 'cover-hook', readings: plant.headIds.flatMap(() => [1.7, 1.71]) }, { code: 'seam-length', readings: plant.headIds.flatMap(() => [2.6, 2.61]) }],
  });
};
const log = async (importId?: number) => (await database.work.run((tx) => recordReadings(tx, actor(), [nextCheck()], { now, source: importId === undefined ? 'entry' : 'import', importId }))).checkIds[0] as number;
const correct = (id: number, change: Partial<Correction>) => database.work.run((tx) => correctReading(tx, actor(), id, { characteristic: 'body-hook', can: 0, position: 0, value: 1.74, reason: 'misread', confirmed: false, ...change }, now));
const photograph = (id: number, picture: number) => database.work.run((tx) => addCheckPhotos(tx, actor(), id, 0, [{ fileName: 'section.png', content: pngOf(picture) }], now));
const sql = (text: string) => database.work.client.$executeRawUnsafe(text);
const alter = (id: number, by = 0.01) => sql(`UPDATE subgroup SET readings[2] = readings[2] + ${by} WHERE plant_id = ${plant.plantId} AND check_id = ${id} AND stream_id = (SELECT min(stream_id) FROM subgroup WHERE check_id = ${id})`);
const verify = () => verifyRecords(database.work.read, plant.plantId);
/** What verification says now that it did not say before the test. */
let known: string[] = [];
const faults = async () => { const { checkFaults, auditFaults } = await verify(); return [...checkFaults, ...auditFaults].filter((fault) => !known.includes(JSON.stringify(fault))); };
beforeEach(async () => { const { checkFaults } = await verify(); known = checkFaults.map((fault) => JSON.stringify(fault)); });
const lastAct = async (id: number) => (await listAudit(database.work.read, plant.plantId, { subject: `check ${id}`, take: 1 }))[0];

it('says nothing after honest photos and corrections, in any order, and keeps seals out of the list of acts', async () => {
  const id = await log();
  await photograph(id, 1);
  await correct(id, {});
  await photograph(id, 2);
  await photograph(id, 2);
  const photo = await database.work.client.checkPhoto.findFirstOrThrow({ where: { checkId: id } });
  await database.work.run((tx) => removeCheckPhoto(tx, actor(), id, photo.id, 'other can', now));
  await photograph(id, 1);
  await correct(id, { can: 1, characteristic: 'seam-length', value: 2.62 });
  expect(await faults()).toEqual([]);
  expect(await lastAct(id)).toMatchObject({ action: 'reading.corrected', before: { value: 2.6 } });
  expect((await lastAct(id))?.before).not.toHaveProperty('seals');
  await photograph(id, 3);
  expect(await lastAct(id)).toMatchObject({ action: 'check.photo-added', before: null });
});

it('names the check and the act when a reading was changed in the tables before a photo', async () => {
  const id = await log();
  await alter(id);
  await photograph(id, 1);
  const { id: auditId, at } = await lastAct(id) as { id: string; at: Date };
  expect(await faults()).toEqual([{ kind: 'changed-before', checkId: id, auditId, action: 'check.photo-added', at: at.toISOString(), seq: expect.stringMatching(/^\d+$/) }]);
  // Honest acts behind it add nothing; the break stays named, also where the reading is changed back.
  await photograph(id, 2);
  await correct(id, {});
  expect(await faults()).toMatchObject([{ kind: 'changed-before', checkId: id, auditId }]);
  await alter(id, 0.02);
  expect((await faults()).map(({ kind }) => kind)).toEqual(['changed-before', 'changed']);
  await correct(id, { value: 1.73 });
  expect(await faults()).toMatchObject([{ auditId, action: 'check.photo-added' }, { kind: 'changed-before', checkId: id, action: 'reading.corrected' }]);
});

it('names it when a reading, a header or a photo was changed before a correction, the corrected reading included', async () => {
  const [reading, header, photo, same] = [await log(), await log(), await log(), await log()];
  await alter(reading);
  await sql(`UPDATE "check" SET inspector = 'Somebody' WHERE id = ${header}`);
  await photograph(photo, 1);
  await sql('ALTER TABLE check_photo DISABLE TRIGGER check_photos_are_kept');
  await database.work.client.$executeRaw`UPDATE check_photo SET content = ${pngOf(9)} WHERE check_id = ${photo}`;
  await sql('ALTER TABLE check_photo ENABLE TRIGGER check_photos_are_kept');
  await sql(`UPDATE subgroup SET readings[1] = 1.9 WHERE check_id = ${same} AND readings[1] = 1.75`);
  for (const id of [reading, header, photo, same]) await correct(id, {});
  expect(await faults()).toMatchObject([reading, header, photo, same].map((checkId) => ({ kind: 'changed-before', checkId, action: 'reading.corrected' })));
});

it('tells a check that in-line readings add to: honest ones never, one changed in between by the act that found it', async () => {
  const feed = { ...actor(), name: 'feed of a test' };
  const bring = (second: number, lane: 'A' | 'B' = 'A') => database.work.run((tx) => recordMonitorSubgroups(tx, feed, [{ stream: { characteristicId: plant.characteristics['weld-overlap'] as number, productId: plant.productId, machineId: plant.machines.bodyMaker, laneId: plant.laneIds[lane], unitId: null }, at: Date.UTC(2026, 3, 1, 8) + second * 1000, readings: [0.41, 0.42, 0.43] }], now));
  await bring(20);
  const { id } = await database.work.client.check.findFirstOrThrow({ where: { source: 'monitor' } });
  const inLine = { characteristic: 'weld-overlap', can: 0, position: 0, value: 0.44 };
  await correct(id, inLine);
  for (const second of [1, 20, 40]) await bring(second);
  await bring(7, 'B');
  await expect(correct(id, { ...inLine, value: 0.45 })).rejects.toMatchObject({ code: 'wrong-state', detail: expect.stringContaining('several subgroups') });
  expect(await faults()).toEqual([]);
  await sql(`UPDATE subgroup SET readings[3] = 0.5 WHERE check_id = ${id} AND taken_at = '2026-04-01T08:00:20Z' AND sequence = 1`);
  await bring(50, 'B');
  await bring(55);
  expect(await faults()).toMatchObject([{ kind: 'changed-before', checkId: id, action: 'readings.recorded' }]);
});

it('tells what was changed before its import was undone, and nothing of an honest undo', async () => {
  const makeImport = async () => {
    const { id } = await database.work.client.import.create({ data: { plantId: plant.plantId, fileName: 'a.csv', sha256: `of ${checks}`, content: new Uint8Array([1]), mapping: {}, state: 'undone', startedBy: plant.users.technician }, select: { id: true } });
    return id;
  };
  const [honest, broken] = [await makeImport(), await makeImport()];
  const [first, second, third] = [await log(honest), await log(broken), await log(broken)];
  await correct(first, {});
  await photograph(third, 1);
  await alter(second);
  for (const id of [honest, broken]) await database.work.run((tx) => undoImport(tx, actor(), id, 'wrong file', now));
  expect(await faults()).toMatchObject([{ kind: 'changed-before', checkId: second, action: 'import.undone' }]);
});

it('says nothing of acts by versions that did not note what they found, nor of older checks because one of them was sealed since', async () => {
  const id = await log();
  await database.work.run(async (tx) => {
    const [stored] = await listTheseAsStored(tx, plant.plantId, [id]);
    await record(tx, actor(), 'check.photo-added', `check ${id}`, { after: { seals: { [id]: '0'.repeat(64) } } });
    await record(tx, actor(), 'reading.corrected', `check ${id}`, { before: { value: 1.7 }, after: { value: 1.75, seals: { [id]: stored?.seal } } });
  });
  await photograph(id, 1);
  expect(await faults()).toEqual([]);
  for (const old of [3, 4]) await database.work.client.$executeRaw`INSERT INTO "check" (plant_id, id, machine_id, product_id, taken_at, entered_by, inspector, can_numbers, can_unit_ids, can_lane_ids, positions, key, content_hash, source) VALUES (${plant.plantId}, ${old}, ${plant.machines.seamer}, ${plant.productId}, now(), ${plant.users.technician}, 'old', '{1}', '{0}', '{0}', '{a}', ${`old ${old}`}, 'x', 'entry')`;
  await photograph(3, 1);
  expect(await faults()).toEqual([]);
  expect((await verify()).checksWithoutSeal).toBe(1);
  await sql('UPDATE "check" SET inspector = \'Somebody\' WHERE id = 3');
  await photograph(3, 2);
  expect(await faults()).toMatchObject([{ kind: 'changed-before', checkId: 3 }]);
});
