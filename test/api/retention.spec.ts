import { afterAll, beforeAll, expect, it } from 'vitest';
import { allEndpoints } from '#contract/all-endpoints';
import { newCheck } from '#contract/inspections';
import { verifyRecordsEndpoint } from '#contract/records';
import { deletePastRetention, getRetention, liftLegalHold, placeLegalHold, setRetentionRule } from '#contract/retention';
import { listAudit } from '#contract/users';
import { recordReadings } from '../../apps/api/src/flows/record-readings.js';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { givePasswords, PASSWORD } from '../factories/passwords.js';
import { photoForm, pngOf } from '../factories/photo-form.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

let database: TestDatabase;
let api: TestApi;
let plant: TestPlant;
const now = new Date('2026-06-15T12:00:00Z');
beforeAll(async () => {
  database = await freshDatabase();
  plant = await makePlant(database.work);
  api = await startApi(database, { now: () => now });
  await givePasswords(database, plant);
});
afterAll(async () => { await api.close(); await database.close(); });

let number = 0;
async function check(takenAt: string, counts: { code: string; inspected: number; nonconforming: number }[] = []): Promise<number> {
  number += 1;
  const { checkIds } = await database.work.run((tx) => recordReadings(tx, { plantId: plant.plantId, userId: plant.users.technician, name: 'Test technician' }, [newCheck.parse({
    key: `retention-check-${number}`, machineId: plant.machines.seamer, productId: plant.productId, takenAt, cans: [{ number: 1, unitId: plant.headIds[0] }], positions: ['a'], characteristics: [{ code: 'body-hook', readings: [1.75] }], counts,
  })], { now, source: 'entry' }));
  return checkIds[0] as number;
}
const view = async () => (await api.as('administrator').call(getRetention, {})).body;
const remove = (checks: number, password = PASSWORD, role: 'administrator' | 'manager' = 'administrator') => api.as(role).call(deletePastRetention, { body: { checks, password, reason: 'past three years' } });
const stored = async (ids: readonly number[]) => (await database.work.client.check.findMany({ where: { id: { in: [...ids] } }, orderBy: { id: 'asc' } })).map(({ id }) => id);

it('keeps everything for ever without a rule, and takes rules in versions from an administrator', async () => {
  await check('2020-01-10T08:00:00Z');
  expect((await view()).past).toBeNull();
  expect((await remove(1)).problem).toMatchObject({ code: 'wrong-state' });
  const rule = (years: number) => ({ body: { kind: 'check' as const, years, source: '21 CFR 113.100(g)', reason: 'as the customers ask' } });
  expect((await api.as('manager').call(setRetentionRule, rule(3))).status).toBe(403);
  expect((await api.as('administrator').call(setRetentionRule, rule(0))).problem.errors?.[0]).toMatchObject({ field: 'years', expected: 'at least 1 year' });
  expect((await api.as('administrator').call(setRetentionRule, rule(5))).body).toMatchObject({ version: 1 });
  expect((await api.as('administrator').call(setRetentionRule, rule(3))).body).toMatchObject({ version: 2 });
  const { rules, past } = await view();
  expect(rules.map(({ version, years }) => [version, years])).toEqual([[2, 3], [1, 5]]);
  expect(past).toMatchObject({ takenBefore: '2023-06-15T00:00:00.000Z', checks: 1, kept: 0, oldest: '2020-01-10T08:00:00.000Z' });
  await expect(database.work.client.$executeRaw`UPDATE retention_rule SET years = 1`).rejects.toThrow('never changed');
});

it('lists what is past, and a legal hold keeps it by customer, product, incident or span until it is lifted with a reason', async () => {
  const young = await check('2023-06-15T00:00:00Z');
  const hold = async (given: object) => {
    const placed = await api.as('manager').call(placeLegalHold, { body: { name: 'Claim 7', reason: 'counsel asked for it', ...given } });
    expect(placed.status, placed.text).toBe(201);
    const { past } = await view();
    const counts = [past?.checks, past?.kept];
    expect((await api.as('manager').call(liftLegalHold, { params: { id: placed.body.id }, body: { reason: 'settled' } })).status).toBe(403);
    expect((await api.as('administrator').call(liftLegalHold, { params: { id: placed.body.id }, body: { reason: 'settled' } })).status).toBe(200);
    return counts;
  };
  expect(await hold({ customer: 'Test customer' })).toEqual([0, 1]);
  expect(await hold({ productId: plant.productId })).toEqual([0, 1]);
  expect(await hold({ from: '2020-01-01T00:00:00Z', until: '2020-02-01T00:00:00Z' })).toEqual([0, 1]);
  expect(await hold({ from: '2020-02-01T00:00:00Z' })).toEqual([1, 0]);
  const incident = async (madeAt: string) => (await database.work.client.incident.create({ data: { plantId: plant.plantId, kind: 'complaint', customer: 'Test customer', productId: plant.productId, lineId: plant.lineId, canCode: '', madeAt: new Date(madeAt), receivedAt: now, cansComplained: 1, cansExamined: 0, leakPlace: 'seam', defect: 'droop', description: 'leaks', loggedBy: plant.users.engineer } })).id;
  expect(await hold({ incidentId: await incident('2020-01-12T00:00:00Z') })).toEqual([0, 1]);
  expect(await hold({ incidentId: await incident('2020-03-12T00:00:00Z') })).toEqual([1, 0]);
  const refused = await api.as('manager').call(placeLegalHold, { body: { name: 'Nothing', reason: 'of nothing' } });
  expect(refused.problem.errors?.[0]?.expected).toBe('at least one of customer, product, incident, beginning and end');
  expect((await api.as('manager').call(placeLegalHold, { body: { name: 'Unknown', reason: 'of nobody', customer: 'Nobody', productId: 99_999 } })).problem.errors?.map(({ field }) => field)).toEqual(['customer', 'productId']);
  const { holds } = await view();
  expect(holds.every(({ lifted }) => lifted?.reason === 'settled')).toBe(true);
  await expect(database.work.client.$executeRaw`UPDATE legal_hold SET reason = 'another'`).rejects.toThrow('never changed');
  await expect(database.work.client.$executeRaw`DELETE FROM legal_hold`).rejects.toThrow('never changed');
  expect(await stored([young])).toEqual([young]);
});

it('deletes only with the password, by an administrator, what was seen, and nothing that differs from its seal', async () => {
  const [first] = await stored([1, 2, 3]);
  expect((await remove(1, PASSWORD, 'manager')).status).toBe(403);
  expect((await remove(1, 'a wrong password')).problem.code).toBe('wrong-credentials');
  expect((await remove(2)).problem.code).toBe('changed-meanwhile');
  await database.work.client.$executeRaw`UPDATE subgroup SET readings = ARRAY[1.9]::float8[] WHERE plant_id = ${plant.plantId} AND check_id = ${first}`;
  expect((await remove(1)).problem).toMatchObject({ code: 'wrong-state', detail: expect.stringContaining('not as it was sealed') });
  await database.work.client.$executeRaw`UPDATE subgroup SET readings = ARRAY[1.75]::float8[] WHERE plant_id = ${plant.plantId} AND check_id = ${first}`;
  expect(await stored([first as number])).toEqual([first]);
});

it('deletes as one act with count and hash, which the comparison of everything knows, and which no reading can go without', async () => {
  await database.work.client.characteristic.create({ data: { plantId: plant.plantId, code: 'dents', name: 'Dents', unit: 'cans', kind: 'attribute', stepKind: 'seamer', gaugeStep: 1, decimals: 0, chartKind: 'i-mr', basis: 'can' } });
  const old = [(await stored([1, 2, 3]))[0] as number, await check('2021-05-05T08:00:00Z', [{ code: 'dents', inspected: 5, nonconforming: 0 }])];
  const kept = await check('2022-07-07T08:00:00Z');
  expect((await api.as('manager').call(placeLegalHold, { body: { name: 'Summer of 2022', reason: 'claim', from: '2022-07-01T00:00:00Z', until: '2022-08-01T00:00:00Z' } })).status).toBe(201);
  await expect(database.work.client.$executeRaw`DELETE FROM check_count WHERE plant_id = ${plant.plantId}`).rejects.toThrow('never changed');
  expect((await api.as('technician').raw({ method: 'POST', url: `/api/checks/${old[1]}/photos`, ...photoForm([{ fileName: 'section.png', content: pngOf(1) }]) })).status).toBe(201);
  const act = await remove(2);
  expect(act.body).toMatchObject({ checks: 2, subgroups: 2, actor: 'Test administrator', takenBefore: '2023-06-15T00:00:00.000Z' });
  expect(await stored([...old, kept])).toEqual([kept]);
  expect(await database.work.client.subgroup.count({ where: { checkId: { in: old } } })).toBe(0);
  expect(await database.work.client.checkPhoto.count({ where: { checkId: { in: old } } })).toBe(0);
  const [entry] = (await api.as('administrator').call(listAudit, { query: { subject: `retention act ${act.body.id}` } })).body;
  expect(entry).toMatchObject({ action: 'readings.deleted', actor: 'Test administrator', after: { checks: 2, hash: act.body.hash, reason: 'past three years', years: 3 } });
  expect((await api.as('manager').call(verifyRecordsEndpoint, {})).body).toMatchObject({ faults: 0, auditFaults: [], checkFaults: [] });
  expect(await view()).toMatchObject({ past: { checks: 0, kept: 1 }, acts: [{ id: act.body.id, hash: act.body.hash }] });
  // The same deletion past the program shows.
  await database.work.client.$executeRaw`DELETE FROM subgroup WHERE plant_id = ${plant.plantId} AND check_id = ${kept}`;
  await database.work.client.$executeRaw`DELETE FROM "check" WHERE plant_id = ${plant.plantId} AND id = ${kept}`;
  expect((await api.as('manager').call(verifyRecordsEndpoint, {})).body.checkFaults).toEqual([{ checkId: kept, kind: 'gone' }]);
  await expect(database.work.client.$executeRaw`DELETE FROM retention_deletion`).rejects.toThrow('never changed');
});

it('offers nobody, an administrator included, a way to change history: every PUT and DELETE leaves the kept tables as they were', { timeout: 120_000 }, async () => {
  const KEPT = ['audit_row', 'audit_link', 'signature', 'subgroup', 'subgroup_revision', 'check', 'limits', 'specification', 'signal_step', 'incident_step', 'hold_step', 'retention_act', 'retention_rule'] as const;
  const id = await check('2026-06-01T08:00:00Z');
  const digest = async () => Object.fromEntries(await Promise.all(KEPT.map(async (table) => {
    const rows = await database.work.client.$queryRawUnsafe<{ row: string }[]>(`SELECT t::text AS row FROM "${table}" t`);
    return [table, new Set(rows.map(({ row }) => row))] as const;
  }))) as Record<(typeof KEPT)[number], Set<string>>;
  const before = await digest();
  const changing = allEndpoints.filter(({ endpoint, name }) => ['PUT', 'DELETE'].includes(endpoint.method) && !['signOut', 'endOwnSession'].includes(name));
  expect(changing.length).toBeGreaterThan(10);
  for (const { name, endpoint } of changing) {
    for (const target of [id, 1, plant.productId]) {
      const { status } = await api.as('administrator').raw({ method: endpoint.method, url: endpoint.path.replace(/:[A-Za-z]+/g, String(target)), payload: { value: 1, reason: 'rewrite history', readings: [], at: '2020-01-01T00:00:00Z', lsl: 0, usl: 9, name: 'x', seals: {} } });
      expect(status, name).toBeLessThan(500);
    }
  }
  const after = await digest();
  for (const table of KEPT) expect([...before[table]].filter((row) => !after[table].has(row)), `rows of ${table} that were changed or removed`).toEqual([]);
});
