import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { unzipSync } from 'fflate';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { recordCalibration } from '#contract/gauge-calibrations';
import { correctReading, recordCheck } from '#contract/inspections';
import { cancelPackJob, getPack, getPackJob, getReadiness, listPacks, makePack, verifyPackEndpoint } from '#contract/packs';
import { listSignatures, signRecords } from '#contract/records';
import { getCapability } from '#contract/studies';
import { computePack } from '../../apps/api/src/flows/packs/compute-pack.js';
import { PackJobsWorker } from '../../apps/api/src/flows/packs/pack-jobs.worker.js';
import { packContent } from '../../apps/api/src/packs/pack-content.js';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { type PackPlant, makePackPlant } from '../factories/packs.js';
import { givePasswords, PASSWORD } from '../factories/passwords.js';
import { photoForm, pngOf } from '../factories/photo-form.js';

let database: TestDatabase;
let plant: PackPlant;
let api: TestApi;
let packId: number;
beforeAll(async () => {
  database = await freshDatabase();
  api = await startApi(database);
  plant = await makePackPlant(database.work, api);
  packId = await pack('Flange width of spring');
}, 120_000);
afterAll(async () => { await api.close(); await database.close(); });

const period = { from: '2026-03-01T00:00:00.000Z', to: '2026-06-01T00:00:00.000Z' };
async function pack(title: string, more: { from: string; to: string; studies?: number[] } = period): Promise<number> {
  const { status, body } = await api.as('engineer').call(makePack, { body: { customer: 'Test customer', title, products: [plant.productId], studies: plant.studyIds, ...more } });
  expect(status).toBe(202);
  expect((await api.as('engineer').call(getPackJob, { params: { id: body.job } })).body).toMatchObject({ state: 'waiting' });
  await api.app.get(PackJobsWorker).drain();
  const job = (await api.as('engineer').call(getPackJob, { params: { id: body.job } })).body;
  expect(job).toMatchObject({ state: 'done', error: null });
  return job.packId as number;
}
const bytes = async (id: number, kind: string, language = 'en') => {
  const reply = await api.app.inject({ method: 'GET', url: `/api/packs/${id}/pack.${kind}?language=${language}`, headers: await sessionHeaders() });
  expect(reply.statusCode, reply.payload.slice(0, 500)).toBe(200);
  return reply.rawPayload;
};
let cookie: string | undefined;
async function sessionHeaders(): Promise<Record<string, string>> {
  if (cookie === undefined) {
    const { createHash } = await import('node:crypto');
    await database.work.client.session.create({ data: { plantId: plant.plantId, userId: plant.users.auditor, tokenHash: createHash('sha256').update('of-the-pack-test').digest('hex'), csrf: 'x', expiresAt: new Date(Date.now() + 3_600_000) } });
    cookie = 'seamledger_session=of-the-pack-test';
  }
  return { cookie };
}
/** What pdftotext reads out of a PDF; null where the program is not installed. */
function pdfText(pdf: Buffer): string | null {
  const folder = mkdtempSync(path.join(tmpdir(), 'pack-'));
  try {
    writeFileSync(path.join(folder, 'pack.pdf'), pdf);
    return execFileSync('pdftotext', ['-layout', path.join(folder, 'pack.pdf'), '-'], { encoding: 'utf8', maxBuffer: 50_000_000 });
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return null;
    throw error;
  } finally {
    rmSync(folder, { recursive: true });
  }
}

describe('a pack', () => {
  it('is listed as a draft, with what must be explained', async () => {
    const { packs } = (await api.as('auditor').call(listPacks, {})).body;
    expect(packs).toMatchObject([{ id: packId, state: 'draft', stale: false, customer: 'Test customer', products: ['T65'], subjects: 2, readings: 320, madeBy: 'Test engineer' }]);
    const { findingList, sha256 } = (await api.as('auditor').call(getPack, { params: { id: packId } })).body;
    expect(sha256).toMatch(/^[0-9a-f]{64}$/);
    const kinds = findingList.map(({ kind }) => kind);
    expect(kinds).toContain('not-judged');
    expect(kinds).toContain('unsigned');
    expect(kinds).not.toContain('no-gauge-study');
    const ready = (await api.as('manager').call(getReadiness, { query: { customer: 'Test customer', products: String(plant.productId), studies: plant.studyIds.join(','), ...period } })).body;
    expect(ready.findings).toEqual(findingList);
  });

  it('holds the published figures of its data', async () => {
    const { content } = JSON.parse((await bytes(packId, 'json')).toString('utf8'));
    const [e1, e7] = [plant.characteristics['flange-width'], plant.characteristics['weld-thickness']].map((id) => content.results.subjects.find((subject: { characteristicId: number }) => subject.characteristicId === id));
    // Montgomery, Introduction to Statistical Quality Control, table 6.1, recomputed with unrounded factors.
    expect(e1.streams[0].chart).toMatchObject({ centre: expect.closeTo(1.5056104, 6), spreadCentre: expect.closeTo(0.325208, 6), sigma: expect.closeTo(0.1398185, 6), mean: { lower: expect.closeTo(1.318024, 5), upper: expect.closeTo(1.693197, 5) } });
    expect(e1.streams[0].entry.figures).toMatchObject({ cp: expect.closeTo(1.192021, 5), cpk: expect.closeTo(1.178646, 5), pp: expect.closeTo(1.250936, 5), ppk: expect.closeTo(1.2369, 5), ppkLowerBound: expect.closeTo(1.09871, 4) });
    // NIST/SEMATECH e-Handbook, 1.4.2.8.
    expect(e7.streams[0].entry).toMatchObject({ n: 195, mean: expect.closeTo(9.261460759, 8), sdOverall: expect.closeTo(0.0227887974, 9) });
  });

  it('gives the same bytes each time, and others in the other language', async () => {
    for (const kind of ['json', 'pdf', 'xlsx']) expect((await bytes(packId, kind)).equals(await bytes(packId, kind)), kind).toBe(true);
    for (const kind of ['pdf', 'xlsx']) expect((await bytes(packId, kind)).equals(await bytes(packId, kind, 'de')), kind).toBe(false);
  }, 60_000);

  it('prints what it holds', async ({ skip }) => {
    const pdf = await bytes(packId, 'pdf');
    expect(pdf.subarray(0, 5).toString()).toBe('%PDF-');
    const raw = pdf.toString('latin1');
    for (const mark of ['/StructTreeRoot', '/MarkInfo', '/Lang (en)', '/Outlines', '/FontFile2']) expect(raw).toContain(mark);
    const text = pdfText(pdf);
    if (text === null) return skip('pdftotext is not installed');
    const figures = ['1.19202', '1.17865', '1.25094', '1.23690', '1.318024', '1.693196', '0.12648', '9.26146076', '28.75 %', '88.36193', '3.167262', '0.4337', '312.5569', '225.3829', '120.8929'];
    for (const figure of figures) expect(text, figure).toContain(figure);
    expect(text).toContain('It releases no product');
    expect(text).toMatch(/Page 1 of \d+/);
    expect(pdfText(await bytes(packId, 'pdf', 'de'))).toContain('Sie gibt keine Ware frei');
  }, 60_000);

  it('recomputes its figures in the spreadsheet', async () => {
    const files = unzipSync(new Uint8Array(await bytes(packId, 'xlsx')));
    const sheet = Buffer.from(files['xl/worksheets/sheet1.xml'] as Uint8Array).toString('utf8');
    for (const formula of ['AVERAGE(Members!', 'STDEV(Members!', 'COUNT(Members!', 'MIN((']) expect(sheet).toContain(formula);
    expect(sheet).toContain('1.192021');
  });

  it('gives the published figures when another program recalculates the spreadsheet', async ({ skip }) => {
    const folder = mkdtempSync(path.join(tmpdir(), 'pack-'));
    try {
      writeFileSync(path.join(folder, 'pack.xlsx'), await bytes(packId, 'xlsx'));
      execFileSync('soffice', [`-env:UserInstallation=file://${folder}/profile`, '--headless', '--convert-to', 'csv:Text - txt - csv (StarCalc):9,34,76,1,,0,false,false,false,false,false,1', '--outdir', folder, path.join(folder, 'pack.xlsx')], { stdio: 'ignore', timeout: 120_000 });
      const [name] = readdirSync(folder).filter((file) => file.endsWith('.csv'));
      const rows = readFileSync(path.join(folder, name as string), 'utf8').split('\n').map((line) => line.replaceAll('"', '').split('\t'));
      const recomputed = (label: string) => Number(rows.find((row) => row[0]?.includes('Flange width') && row[1]?.startsWith(label))?.[3]);
      for (const [label, value] of [['n', 125], ['Mean', 1.5056104], ['Sd overall', 0.1332335], ['Cp', 1.192021], ['Cpk', 1.178646], ['Pp', 1.250936], ['Ppk', 1.2369], ['LCL', 1.318024], ['UCL', 1.693197]] as const) expect(recomputed(label), label).toBeCloseTo(value, 5);
      const differences = rows.filter((row) => row[4] !== undefined && row[4] !== '' && !Number.isNaN(Number(row[4]))).map((row) => Math.abs(Number(row[4])));
      expect(differences.length).toBeGreaterThan(15);
      expect(Math.max(...differences)).toBeLessThan(1e-9);
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code === 'ENOENT') return skip('LibreOffice is not installed');
      throw error;
    } finally {
      rmSync(folder, { recursive: true });
    }
  }, 180_000);

  it('is equal when verified, stale after a correction, and never changed', async () => {
    const verify = async () => (await api.as('auditor').call(verifyPackEndpoint, { params: { id: packId } })).body;
    const before = await bytes(packId, 'json');
    expect(await verify()).toMatchObject({ equal: true, stale: false, differences: [], readings: 320 });
    const reply = await api.as('technician').call(correctReading, { params: { id: plant.checkIds[0] as number }, body: { characteristic: 'flange-width', can: 0, position: 0, value: 1.33, reason: 'misread' } });
    expect(reply.status).toBe(201);
    const after = await verify();
    expect(after).toMatchObject({ equal: false, stale: true, serious: 0, corrected: 1 });
    expect(after.movedOn).toBeGreaterThan(0);
    expect(after.differences.filter(({ kind }) => kind === 'corrected')).toHaveLength(1);
    expect((await api.as('auditor').call(listPacks, {})).body.packs[0]).toMatchObject({ stale: true });
    expect((await bytes(packId, 'json')).equals(before)).toBe(true);
    await expect(database.work.client.$executeRaw`UPDATE pack SET title = 'other' WHERE plant_id = ${plant.plantId}`).rejects.toThrow('never changed');
  });

  it('tells acts of the audit trail since from what was changed past the program', async () => {
    const found = async () => {
      const { differences, serious, corrected, equal, stale } = (await api.as('auditor').call(verifyPackEndpoint, { params: { id: packId } })).body;
      return { kinds: [...new Set(differences.map(({ kind }) => kind))].filter((kind) => kind !== 'moved-on').sort(), serious, corrected, equal, stale };
    };
    const late = await api.as('technician').call(recordCheck, { body: { key: 'pack-late', machineId: plant.machines.flanger, productId: plant.productId, takenAt: '2026-03-20T08:00:00Z', cans: [1, 2, 3, 4, 5].map((number) => ({ number })), positions: ['point'], characteristics: [{ code: 'flange-width', readings: [1.5, 1.51, 1.49, 1.5, 1.52] }] } });
    expect(late.status).toBe(201);
    expect(await found()).toEqual({ kinds: ['corrected', 'recorded-later'], serious: 0, corrected: 2, equal: false, stale: true });
    const product = (name: string) => database.work.client.product.updateMany({ where: { plantId: plant.plantId, id: plant.productId }, data: { name } });
    const [{ name: before } = { name: '' }] = await database.work.client.product.findMany({ where: { plantId: plant.plantId, id: plant.productId } });
    await product('Renamed past the program');
    expect(await found()).toMatchObject({ kinds: ['altered', 'corrected', 'recorded-later'], corrected: 2 });
    await product(before);
    // A revision that no act wrote: a higher number by itself explains nothing.
    const change = (checkId: number, by: number) => database.work.client.$executeRaw`UPDATE subgroup SET readings[1] = readings[1] + ${by}::float8, revision = revision + ${Math.sign(by)}::int WHERE plant_id = ${plant.plantId} AND check_id = ${checkId}`;
    for (const checkId of [plant.checkIds[1] as number, plant.checkIds[0] as number, late.body.checkId]) {
      await change(checkId, 0.125);
      expect(await found(), `check ${checkId}`).toMatchObject({ serious: 1, equal: false });
      await change(checkId, -0.125);
      expect(await found()).toMatchObject({ serious: 0, corrected: 2 });
    }
    // A photo seals a check anew: a corrected one stays explained, and readings that no act wrote stay unexplained.
    const photograph = async (checkId: number) => expect((await api.as('technician').raw({ method: 'POST', url: `/api/checks/${checkId}/photos`, ...photoForm([{ fileName: 'section.png', content: pngOf(checkId) }]) })).status).toBe(201);
    await photograph(plant.checkIds[0] as number);
    expect(await found()).toEqual({ kinds: ['corrected', 'recorded-later'], serious: 0, corrected: 2, equal: false, stale: true });
    await change(plant.checkIds[2] as number, 0.125);
    await photograph(plant.checkIds[2] as number);
    expect(await found()).toMatchObject({ serious: 1, corrected: 2 });
    await change(plant.checkIds[2] as number, -0.125);
    // An honest correction of a check that was changed in the tables before it does not explain that change, and neither does the photo of a corrected one.
    const other = await api.as('technician').call(correctReading, { params: { id: plant.checkIds[2] as number }, body: { characteristic: 'flange-width', can: 1, position: 0, value: 1.44, reason: 'misread' } });
    expect(other.status).toBe(201);
    expect(await found(), 'the photo before sealed what was changed in the tables').toMatchObject({ serious: 1, corrected: 2 });
    await change(plant.checkIds[0] as number, 0.125);
    await photograph(late.body.checkId);
    await api.as('technician').raw({ method: 'POST', url: `/api/checks/${plant.checkIds[0]}/photos`, ...photoForm([{ fileName: 'another.png', content: pngOf(777) }]) });
    expect(await found()).toMatchObject({ serious: 2, corrected: 1 });
    await change(plant.checkIds[0] as number, -0.125);
  }, 60_000);

  it('is checked by a second person, then approved, and prints who signed', async ({ skip }) => {
    await givePasswords(database, plant);
    const { contentHash } = (await api.as('engineer').call(listSignatures, { query: { kind: 'pack', recordId: packId } })).body;
    const sign = (by: 'engineer' | 'manager', meaning: 'reviewed' | 'approved') => api.as(by).call(signRecords, { body: { records: [{ kind: 'pack', recordId: packId, contentHash }], meaning, password: PASSWORD, comment: '' } });
    expect((await sign('engineer', 'reviewed')).problem).toMatchObject({ code: 'wrong-state' });
    expect((await sign('manager', 'reviewed')).status).toBe(201);
    expect((await api.as('auditor').call(getPack, { params: { id: packId } })).body.state).toBe('checked');
    expect((await sign('manager', 'approved')).status).toBe(201);
    expect((await api.as('auditor').call(getPack, { params: { id: packId } })).body.state).toBe('approved');
    const text = pdfText(await bytes(packId, 'pdf'));
    if (text === null) return skip('pdftotext is not installed');
    expect(text).toMatch(/reviewed\s+Test manager/);
  });
});

describe('the gauges of a pack', () => {
  const later = { from: '2026-06-01T00:00:00.000Z', to: '2026-07-01T00:00:00.000Z' };
  const readiness = async () => (await api.as('manager').call(getReadiness, { query: { customer: 'Test customer', products: String(plant.productId), ...later } })).body.findings;
  beforeAll(async () => {
    for (const day of [5, 12, 21, 26]) {
      const takenAt = new Date(Date.UTC(2026, 5, day, 8)).toISOString();
      const reply = await api.as('technician').call(recordCheck, { body: { key: `gauged-${day}`, machineId: plant.machines.seamer, productId: plant.productId, takenAt, cans: [{ number: 1, unitId: plant.headIds[0] }], positions: ['60°', '180°', '300°'], characteristics: [{ code: 'body-hook', gaugeId: plant.gaugeId, readings: [1.7, 1.71 + day / 1000, 1.69] }] } });
      expect(reply.status, reply.text).toBe(201);
    }
  });

  it('are held against the calibration that stood at each reading, as on the capability screen', async () => {
    const calibrate = (calibratedAt: string, result: 'passed' | 'failed', dueAt: string | null) => api.as('technician').call(recordCalibration, { params: { id: plant.gaugeId }, body: { calibratedAt, result, certificate: 'C', calibratedBy: 'Laboratory', dueAt } });
    expect((await calibrate('2026-05-01T00:00:00Z', 'passed', '2026-06-10T00:00:00Z')).status).toBe(201);
    expect((await calibrate('2026-06-20T00:00:00Z', 'passed', '2026-12-20T00:00:00Z')).status).toBe(201);
    expect((await calibrate('2026-06-25T00:00:00Z', 'failed', null)).status).toBe(201);
    expect((await readiness()).filter(({ kind }) => kind === 'calibration-overdue')).toMatchObject([{ about: 'MIC-1', count: 2, at: '2026-06-10T00:00:00.000Z' }]);
    const { body: { streams } } = await api.as('manager').call(getCapability, { query: { product: plant.productId, machine: plant.machines.seamer, characteristic: plant.characteristics['body-hook'] as number, ...later } });
    expect(streams.flatMap(({ gauges }) => gauges)).toMatchObject([{ code: 'MIC-1', subgroups: 4, overdue: 2 }]);
  });

  it('are asked for an approved study of each characteristic, which is frozen with the pack', async () => {
    const gaugeFindings = async () => (await readiness()).flatMap(({ kind, about, characteristicId }) => (kind.includes('gauge-study') ? [[kind, about, characteristicId]] : []));
    const characteristicId = plant.characteristics['body-hook'] as number;
    const approve = async (verdict: string, ofTolerance: number) => (await database.work.client.studyRecord.create({ data: {
      plantId: plant.plantId, kind: 'gauge', title: 'Micrometer on hooks', state: 'approved', characteristicId, gaugeId: plant.gaugeId, question: { design: 'crossed' }, inputs: { trials: [] }, inputsHash: 'a'.repeat(64), results: { judged: [{ figure: 'of-tolerance', value: ofTolerance, verdict }] }, verdict, version: 'test', authorId: plant.users.engineer, createdAt: new Date(), approvedAt: new Date(),
    }, select: { id: true } })).id;
    expect(await gaugeFindings()).toEqual([['no-gauge-study', 'Body hook, MIC-1', characteristicId]]);
    const bad = await approve('not-acceptable', 0.42);
    expect(await gaugeFindings()).toEqual([['gauge-study-failed', 'Body hook, MIC-1', characteristicId]]);
    await database.work.client.studyRecord.updateMany({ where: { plantId: plant.plantId, id: bad }, data: { state: 'superseded' } });
    const good = await approve('acceptable', 0.08);
    expect(await gaugeFindings()).toEqual([]);

    const id = await pack('With an approved study', { ...later, studies: [] });
    const { content } = JSON.parse((await bytes(id, 'json')).toString('utf8'));
    expect(content.inputs.gaugeStudies).toMatchObject([{ id: good, gaugeId: plant.gaugeId, characteristicId, verdict: 'acceptable', ofTolerance: 0.08 }]);
    const verify = async () => (await api.as('auditor').call(verifyPackEndpoint, { params: { id } })).body;
    expect(await verify()).toMatchObject({ equal: true, stale: false, differences: [] });
    await approve('conditional', 0.2);
    const { equal, stale, differences } = await verify();
    expect({ equal, stale, kinds: new Set(differences.map(({ kind }) => kind)) }).toEqual({ equal: true, stale: false, kinds: new Set(['moved-on']) });
    const text = pdfText(await bytes(id, 'pdf'));
    if (text !== null) expect(text).toMatch(/MIC-1, Body hook; – of the study\s+variation, 8.00 % of the tolerance/);
  }, 60_000);

  it('of a pack from before their studies were frozen are asked for one kept study of all', async () => {
    const { content } = JSON.parse((await bytes(packId, 'json')).toString('utf8'));
    const { gaugeStudies: _later, ...inputs } = content.inputs;
    const before = packContent.parse({ ...content, inputs });
    const kinds = async (studies: typeof before.inputs.studies) => (await computePack({ ...before.inputs, studies }, before.scope)).findings.flatMap(({ kind, about }) => (kind === 'no-gauge-study' ? [about] : []));
    expect(await kinds(before.inputs.studies)).toEqual([]);
    expect(await kinds([])).toEqual(['Test customer']);
  });
});

it('stops a job that is cancelled, takes over one whose worker died, and says what is wrong with a request', async () => {
  const ask = async () => (await api.as('engineer').call(makePack, { body: { customer: 'Test customer', title: 'another', products: [plant.productId], ...period } })).body.job;
  const cancelled = await ask();
  expect((await api.as('engineer').call(cancelPackJob, { params: { id: cancelled } })).body.state).toBe('cancelled');
  expect((await api.as('engineer').call(cancelPackJob, { params: { id: cancelled } })).problem).toMatchObject({ code: 'wrong-state' });
  const left = await ask();
  await database.work.client.packJob.updateMany({ where: { id: left }, data: { state: 'running', attempt: 1, heartbeatAt: new Date() } });
  expect(await api.app.get(PackJobsWorker).drain()).toBe(0);
  await database.work.client.packJob.updateMany({ where: { id: left }, data: { heartbeatAt: new Date(Date.now() - 60_000) } });
  expect(await api.app.get(PackJobsWorker).drain()).toBe(1);
  expect(await database.work.client.packJob.findFirst({ where: { id: left } })).toMatchObject({ state: 'done', attempt: 2 });
  expect((await api.as('engineer').call(makePack, { body: { customer: 'Another customer', title: 'x', products: [plant.productId], ...period } })).problem).toMatchObject({ status: 404, errors: [{ field: 'products' }] });
  expect((await api.as('engineer').call(makePack, { body: { customer: 'Test customer', title: 'x', products: [plant.productId], from: period.to, to: period.from } })).problem).toMatchObject({ status: 400, errors: [{ field: 'to' }] });
  expect((await api.as('auditor').call(getPack, { params: { id: 99_999 } })).problem).toMatchObject({ status: 404 });
});
