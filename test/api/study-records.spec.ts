import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { gaugeCrossed } from '#statistics/gauges/crossed';
import { getStudyRecord, keepBeforeAfterStudy, keepCapabilityStudy, listStudyRecords, setStudyAside, stepStudyRecord } from '#contract/capability-studies';
import { listCalibrations, recordCalibration } from '#contract/gauge-calibrations';
import { changeStudyThresholds, enterTrial, finishGaugeStudy, getBlindSheet, getStudyThresholds, listGaugeStandings, planGaugeStudy } from '#contract/gauge-studies';
import { correctReading, recordCheck } from '#contract/inspections';
import { listSignatures } from '#contract/records';
import { getCapability } from '#contract/studies';
import { gaugeStanding } from '../../apps/api/src/studies/gauge-standing.js';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import published from '../published/gauges.json' with { type: 'json' };
import { givePasswords, PASSWORD } from '../factories/passwords.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

let database: TestDatabase;
let plant: TestPlant;
let api: TestApi;
const checkIds: number[] = [];
beforeAll(async () => {
  database = await freshDatabase();
  plant = await makePlant(database.work);
  api = await startApi(database);
  await givePasswords(database, plant);
  for (let i = 0; i < 12; i += 1) {
    const base = 1.74 + 0.01 * (i % 3) + (i >= 6 ? 0.05 : 0);
    const reply = await api.as('technician').call(recordCheck, { body: { key: `study-check-${i}`, machineId: plant.machines.seamer, productId: plant.productId, takenAt: new Date(Date.UTC(2026, 4, 1, 6 + i)).toISOString(), cans: [{ number: 1, unitId: plant.headIds[0] }], positions: ['60°', '180°', '300°'], characteristics: [{ code: 'body-hook', gaugeId: plant.gaugeId, readings: [base, base + 0.01, base - 0.01] }] } });
    expect(reply.status).toBe(201);
    checkIds.push(reply.body.checkId);
  }
}, 120_000);
afterAll(async () => { await api.close(); await database.close(); });

const question = () => ({ product: plant.productId, machine: plant.machines.seamer, characteristic: plant.characteristics['body-hook'], from: '2026-05-01T00:00:00Z', to: '2026-05-02T00:00:00Z' });
const one = async (recordId: number) => (await api.as('manager').call(getStudyRecord, { params: { recordId } })).body;
async function step(by: 'engineer' | 'manager', recordId: number, state: 'checked' | 'approved', password = PASSWORD) {
  const { contentHash } = (await api.as(by).call(listSignatures, { query: { kind: 'study-record', recordId } })).body;
  return api.as(by).call(stepStudyRecord, { params: { recordId }, body: { state, contentHash, password, comment: 'compared with the bench sheets' } });
}
const keep = async (more: { supersedesId?: number; excluded?: { checkId: number; reason: string }[] } = {}) => (await api.as('engineer').call(keepCapabilityStudy, { body: { title: 'Body hook, first study', ...question(), ...more } })).body.id;

describe('a capability study', () => {
  it('is kept as the server computed it, with what it rests on', async () => {
    const id = await keep();
    const study = await one(id);
    const { body: now } = await api.as('manager').call(getCapability, { query: question() });
    expect(study).toMatchObject({ kind: 'capability', state: 'draft', stale: false, inputsCount: 12, product: { id: plant.productId }, characteristic: { code: 'body-hook' } });
    expect(study.content).toEqual({ kind: 'capability', excluded: [], study: now });
    expect(study.inputsHash).toMatch(/^[0-9a-f]{64}$/);
    expect(study.steps.map(({ state, actor }) => [state, actor])).toEqual([['draft', 'Test engineer']]);
  });

  it('leaves out checks with reason and name, and refuses one that it does not hold', async () => {
    const id = await keep({ excluded: [{ checkId: checkIds[0] as number, reason: 'gauge was dropped before it' }] });
    const { content } = await one(id);
    if (content.kind !== 'capability') throw new Error('not a capability study');
    expect(content.excluded).toEqual([{ checkId: checkIds[0], reason: 'gauge was dropped before it', by: 'Test engineer', subgroups: 1 }]);
    expect(content.study.streams[0]?.subgroups).toBe(11);
    const refused = await api.as('engineer').call(keepCapabilityStudy, { body: { title: 'x', ...question(), excluded: [{ checkId: 999_999, reason: 'not here' }] } });
    expect([refused.status, refused.problem.errors?.[0]?.field]).toEqual([400, 'excluded.0.checkId']);
  });

  it('is checked and approved by a second person only, in that order, with the password', async () => {
    const id = await keep();
    expect((await step('engineer', id, 'checked')).problem.code).toBe('wrong-state');
    expect((await step('manager', id, 'approved')).problem.code).toBe('wrong-state');
    expect((await step('manager', id, 'checked', 'not the password')).problem.code).toBe('wrong-credentials');
    expect((await one(id)).state).toBe('draft');
    expect((await step('manager', id, 'checked')).body.state).toBe('checked');
    expect((await step('manager', id, 'approved')).body.state).toBe('approved');
    const { signatures } = (await api.as('manager').call(listSignatures, { query: { kind: 'study-record', recordId: id } })).body;
    expect(signatures.map(({ meaning, covers, printedName }) => [meaning, covers, printedName])).toEqual([['reviewed', true, 'Test manager'], ['approved', true, 'Test manager']]);
    const actions = await database.work.client.auditRow.findMany({ where: { subject: `study record ${id}` }, orderBy: { id: 'asc' } });
    expect(actions.map(({ action }) => action)).toEqual(['study.kept', 'study.checked', 'study.approved']);
  });

  it('never changes, and gives way only to a newer one that is approved', async () => {
    const old = await keep();
    await step('manager', old, 'checked');
    await step('manager', old, 'approved');
    const where = { plantId_id: { plantId: plant.plantId, id: old } };
    const table = database.work.client.studyRecord;
    await expect(table.update({ where, data: { title: 'other' } })).rejects.toThrow();
    await expect(table.update({ where, data: { results: {} } })).rejects.toThrow();
    await expect(table.update({ where, data: { state: 'draft' } })).rejects.toThrow();
    await expect(table.delete({ where })).rejects.toThrow();
    expect((await api.as('manager').call(setStudyAside, { params: { recordId: old }, body: { reason: 'not needed' } })).problem.code).toBe('wrong-state');
    const newer = await keep({ supersedesId: old });
    expect((await one(old)).state).toBe('approved');
    await step('manager', newer, 'checked');
    await step('manager', newer, 'approved');
    expect(await one(old)).toMatchObject({ state: 'superseded', supersededById: newer, stale: null });
    expect((await api.as('engineer').call(keepCapabilityStudy, { body: { title: 'again', ...question(), supersedesId: old } })).problem.errors?.[0]?.field).toBe('supersedesId');
  });

  it('is marked where a reading was corrected, or a check came late, and keeps its figures', async () => {
    const id = await keep();
    const before = await one(id);
    const corrected = await api.as('technician').call(correctReading, { params: { id: checkIds[3] as number }, body: { characteristic: 'body-hook', can: 0, position: 0, value: 1.7, reason: 'misread' } });
    expect(corrected.status).toBe(201);
    const after = await one(id);
    expect([before.stale, after.stale]).toEqual([false, true]);
    expect(after.content).toEqual(before.content);
    const { body: { studies } } = await api.as('manager').call(listStudyRecords, { query: { kind: 'capability' } });
    expect(studies.find((study) => study.id === id)?.stale).toBe(true);
    const fresh = await keep();
    expect((await one(fresh)).stale).toBe(false);
    const late = await api.as('technician').call(recordCheck, { body: { key: 'study-check-late', machineId: plant.machines.seamer, productId: plant.productId, takenAt: '2026-05-01T20:30:00Z', cans: [{ number: 1, unitId: plant.headIds[0] }], positions: ['60°', '180°', '300°'], characteristics: [{ code: 'body-hook', gaugeId: plant.gaugeId, readings: [1.75, 1.74, 1.76] }] } });
    expect(late.status).toBe(201);
    expect((await one(fresh)).stale).toBe(true);
  });
});

it('keeps a comparison before and after a change on a stream', async () => {
  const { body: capability } = await api.as('manager').call(getCapability, { query: question() });
  const asked = { streamId: capability.streams[0]?.streamId as number, change: 'chuck replaced', changedAt: '2026-05-01T11:30:00Z', before: { from: '2026-05-01T00:00:00Z', to: '2026-05-01T11:30:00Z' }, after: { from: '2026-05-01T11:30:00Z', to: '2026-05-01T18:00:00Z' }, expected: 'higher' as const };
  const { status, body: { id } } = await api.as('engineer').call(keepBeforeAfterStudy, { body: { title: 'Chuck of head 1', asked } });
  expect(status).toBe(201);
  const study = await one(id);
  if (study.content.kind !== 'before-after') throw new Error('not a comparison');
  expect(study).toMatchObject({ state: 'draft', stale: false, machine: { id: plant.machines.seamer }, inputsCount: 12 });
  // Six checks each side, the later ones set 0.05 mm higher; one reading of the time before was corrected by about -0.04.
  expect(study.content.answer.welch?.difference).toBeGreaterThan(0.04);
  expect(study.content.answer.welch?.difference).toBeLessThan(0.06);
  const empty = await api.as('engineer').call(keepBeforeAfterStudy, { body: { title: 'x', asked: { ...asked, after: { from: '2026-05-01T22:00:00Z', to: '2026-05-01T23:00:00Z' } } } });
  expect(empty.problem.code).toBe('too-little-data');
});

/** Takes every reading through the sheet, person by person; answers what was entered by person, part and repeat. */
async function measure(recordId: number, measuredBy: (person: number, part: string, place: number) => number) {
  const sheet = (person: number) => api.as('operator').call(getBlindSheet, { params: { recordId }, query: { person } });
  const people = (await sheet(0)).body.people.length;
  for (let person = 0; person < people; person += 1) {
    for (let turn = 0; turn < 200; turn += 1) {
      const { body } = await sheet(person);
      if (!body.next) break;
      const reply = await api.as('operator').call(enterTrial, { params: { recordId }, body: { sequence: body.next.sequence, value: measuredBy(person, body.next.part, body.next.place) } });
      expect(reply.status).toBe(201);
    }
  }
}

describe('a gauge study', () => {
  const parts = ['P1', 'P2', 'P3', 'P4', 'P5'];
  const plan = () => ({ title: 'Seam micrometer, body hook', design: 'crossed' as const, characteristicId: plant.characteristics['body-hook'], gaugeId: plant.gaugeId, productId: plant.productId, people: ['Ana', 'Rui'], parts, repeats: 2 });

  it('is planned in a random order that is kept, measured blind in that order, and computed by the published method', async () => {
    const { body: { id } } = await api.as('technician').call(planGaugeStudy, { body: plan() });
    const { body: first } = await api.as('operator').call(getBlindSheet, { params: { recordId: id }, query: { person: 1 } });
    expect(first.people).toEqual([{ name: 'Ana', taken: 0, of: 10 }, { name: 'Rui', taken: 0, of: 10 }]);
    const early = await api.as('operator').call(enterTrial, { params: { recordId: id }, body: { sequence: 20, value: 1.75 } });
    expect(early.problem.code).toBe('wrong-state');
    const odd = await api.as('operator').call(enterTrial, { params: { recordId: id }, body: { sequence: first.next?.sequence as number, value: 17.5 } });
    expect(odd.problem.code).toBe('implausible-reading');
    const counted = new Map<string, number>();
    const table = parts.map(() => [[], []] as number[][]);
    await measure(id, (person, part) => {
      const repeat = counted.get(`${person} ${part}`) ?? 0;
      counted.set(`${person} ${part}`, repeat + 1);
      const value = Math.round((1.65 + 0.03 * parts.indexOf(part) + 0.004 * person + 0.003 * repeat * (parts.indexOf(part) % 2 === 0 ? 1 : -1)) * 1e6) / 1e6;
      table[parts.indexOf(part)]?.[person]?.push(value);
      return value;
    });
    const { text } = await api.as('operator').call(getBlindSheet, { params: { recordId: id }, query: { person: 0 } });
    expect(text).not.toContain('1.65');
    expect((await api.as('technician').call(finishGaugeStudy, { params: { recordId: id }, body: {} })).status).toBe(201);
    const study = await one(id);
    if (study.content.kind !== 'gauge' || !study.content.result?.measured) throw new Error('not measured');
    const expected = gaugeCrossed(table, { tolerance: 0.3, confidence: 0.95 });
    const gauge = study.content.result.measured.rows.find(({ source }) => source === 'gauge');
    expect(gauge?.sd).toBeCloseTo(expected.gauge.sd, 12);
    expect(gauge?.ofTolerance).toBeCloseTo(expected.gauge.ofTolerance as number, 10);
    expect(study.content.result.measured.categories).toBe(expected.distinctCategories);
    expect(study.content.result.cautions).toEqual(expect.arrayContaining(['few-parts', 'few-people', 'calibration-not-known']));
    expect(study.state).toBe('draft');
    expect((await api.as('operator').call(enterTrial, { params: { recordId: id }, body: { sequence: 1, value: 1.7, retakeReason: 'slipped' } })).problem.code).toBe('wrong-state');
    await expect(database.work.client.gaugeTrial.updateMany({ where: { recordId: id }, data: { value: 1 } })).rejects.toThrow();

    // Once approved, it stands beside capability.
    const at = new Date('2026-05-02T00:00:00Z');
    const standing = () => gaugeStanding(database.work.read, plant.plantId, { gaugeId: plant.gaugeId, characteristicId: plant.characteristics['body-hook'], at });
    expect(await standing()).toMatchObject({ calibration: 'not-known', study: null });
    await step('manager', id, 'checked');
    await step('manager', id, 'approved');
    expect(await standing()).toMatchObject({ study: { id, verdict: study.verdict, design: 'crossed', ofTolerance: gauge?.ofTolerance } });
    const { body: capability } = await api.as('manager').call(getCapability, { query: question() });
    expect(capability.cautions).not.toContain('no-gauge-study');
    expect(capability.measurement).toMatchObject([{ gauge: { id: plant.gaugeId }, study: { id } }]);
    const { body: { gauges } } = await api.as('manager').call(listGaugeStandings, {});
    expect(gauges[0]?.studies).toMatchObject([{ id, characteristic: 'Body hook' }]);
  }, 120_000);

  it('lets a reading be taken anew with a reason, and keeps the old value in the trail', async () => {
    const { body: { id } } = await api.as('technician').call(planGaugeStudy, { body: plan() });
    const sheet = async () => (await api.as('operator').call(getBlindSheet, { params: { recordId: id }, query: { person: 0 } })).body;
    const sequence = (await sheet()).next?.sequence as number;
    await api.as('operator').call(enterTrial, { params: { recordId: id }, body: { sequence, value: 1.91 } });
    expect((await sheet()).last?.sequence).toBe(sequence);
    expect((await api.as('operator').call(enterTrial, { params: { recordId: id }, body: { sequence, value: 1.71 } })).problem.code).toBe('wrong-state');
    expect((await api.as('operator').call(enterTrial, { params: { recordId: id }, body: { sequence, value: 1.71, retakeReason: 'the anvil was dirty' } })).status).toBe(201);
    const [row] = await database.work.client.auditRow.findMany({ where: { subject: `study record ${id}`, action: 'gauge-study.reading-retaken' } });
    expect(row?.after).toMatchObject({ old: 1.91, value: 1.71, reason: 'the anvil was dirty' });
    expect((await api.as('technician').call(finishGaugeStudy, { params: { recordId: id }, body: {} })).problem.detail).toMatch(/19 of 20/);
    expect((await api.as('engineer').call(setStudyAside, { params: { recordId: id }, body: { reason: 'parts were lost' } })).body.state).toBe('superseded');
  });

  it('finds the bias of the published masters, and proves no gauge by it alone', async () => {
    const { linearity: { masters, printed } } = published;
    const names = masters.map((_master, place) => `M${place + 1}`);
    const asked = { ...plan(), title: 'Bias of the micrometer', productId: null, design: 'bias' as const, people: ['Ana'], parts: names, repeats: masters[0]?.values.length ?? 0, references: masters.map(({ reference }) => reference) };
    const wrong = async (change: object) => (await api.as('technician').call(planGaugeStudy, { body: { ...asked, ...change } })).problem.errors?.map(({ field }) => field);
    expect(await wrong({ references: null })).toEqual(['references']);
    expect(await wrong({ references: masters.map(() => 2) })).toEqual(['references']);
    expect(await wrong({ design: 'crossed', references: null })).toEqual(['repeats', 'people']);
    expect(await wrong({ design: 'crossed', references: null, people: ['Ana', 'Rui'] })).toEqual(['repeats']);
    const { status, body: { id } } = await api.as('technician').call(planGaugeStudy, { body: asked });
    expect(status).toBe(201);
    const left = masters.map(({ values }) => [...values]);
    for (let turn = 0; turn < 60; turn += 1) {
      const { body } = await api.as('operator').call(getBlindSheet, { params: { recordId: id }, query: { person: 0 } });
      const value = left[names.indexOf(body.next?.part ?? '')]?.shift();
      expect((await api.as('operator').call(enterTrial, { params: { recordId: id }, body: { sequence: body.next?.sequence ?? 0, value: value ?? Number.NaN, unusual: true } })).status).toBe(201);
    }
    const before = await gaugeStanding(database.work.read, plant.plantId, { gaugeId: plant.gaugeId, characteristicId: plant.characteristics['body-hook'], at: new Date('2026-05-02T00:00:00Z') });
    expect((await api.as('technician').call(finishGaugeStudy, { params: { recordId: id }, body: {} })).status).toBe(201);
    const { content } = await one(id);
    if (content.kind !== 'gauge' || !content.result?.bias) throw new Error('no bias');
    const { result: { bias, verdict, cautions, measured } } = content;
    expect([bias.slope, bias.intercept, bias.rSquared]).toEqual([expect.closeTo(printed.slope, 5), expect.closeTo(printed.intercept, 5), expect.closeTo(printed.rSquared, 3)]);
    expect(bias.masters.map(({ reference, n }) => [reference, n])).toEqual(masters.map(({ reference, values }) => [reference, values.length]));
    expect(bias.unbiased).toBe(false);
    expect([verdict, measured, cautions.includes('bias-only'), cautions.includes('few-people')]).toEqual([null, null, true, false]);
    await step('manager', id, 'checked');
    await step('manager', id, 'approved');
    const { body: { gauges } } = await api.as('manager').call(listGaugeStandings, {});
    expect(gauges[0]?.studies).toContainEqual(expect.objectContaining({ id, design: 'bias', unbiased: false, verdict: null }));
    // The study that proves the gauge is still the one of its variation.
    expect((await gaugeStanding(database.work.read, plant.plantId, { gaugeId: plant.gaugeId, characteristicId: plant.characteristics['body-hook'], at: new Date('2026-05-02T00:00:00Z') }))?.study).toEqual(before?.study);
  });

  it('gives nested parts to one person each, and says that the figure is an upper estimate', async () => {
    const { body: { id } } = await api.as('technician').call(planGaugeStudy, { body: { ...plan(), design: 'nested', parts: ['H1', 'H2', 'H3', 'H4'] } });
    let n = 0;
    await measure(id, (_person, part) => { n += 1; return 1.7 + 0.02 * Number(part[1]) + 0.001 * (n % 3); });
    expect((await api.as('technician').call(finishGaugeStudy, { params: { recordId: id }, body: {} })).status).toBe(201);
    const { content } = await one(id);
    if (content.kind !== 'gauge' || !content.result) throw new Error('no result');
    expect(content.result.cautions).toContain('destructive');
    expect(content.result.readings.map(({ values }) => values.length)).toEqual([2, 2, 2, 2]);
  });

  it('judges ratings by the weakest agreement with the reference', async () => {
    const scale = { kind: 'ordinal' as const, grades: [60, 70, 80, 90, 100], steps: 1, least: 70 };
    const body = { title: 'Tightness by eye', design: 'agreement' as const, characteristicId: plant.characteristics.tightness, people: ['Ana', 'Rui'], parts: ['A', 'B', 'C', 'D', 'E', 'F'], repeats: 1, scale, standard: [0, 1, 2, 3, 4, 2] };
    const { body: { id } } = await api.as('technician').call(planGaugeStudy, { body });
    const bad = await api.as('operator').call(enterTrial, { params: { recordId: id }, body: { sequence: 1, value: 7 } });
    expect([bad.status, bad.problem.errors?.[0]?.field]).toEqual([400, 'value']);
    // Ana agrees with the reference; Rui passes the can that is to be rejected.
    await measure(id, (person, part) => (person === 1 && part === 'A' ? 4 : body.standard['ABCDEF'.indexOf(part)] as number));
    expect((await api.as('technician').call(finishGaugeStudy, { params: { recordId: id }, body: {} })).status).toBe(201);
    const { content } = await one(id);
    if (content.kind !== 'gauge' || !content.result?.rated) throw new Error('not rated');
    const [ana, rui] = content.result.rated.againstStandard;
    expect(ana?.kappa.kappa).toBeCloseTo(1, 12);
    expect(ana?.missed).toMatchObject({ found: 0, of: 1 });
    expect(rui?.missed).toMatchObject({ found: 1, of: 1 });
    expect(content.result.rated.lowestKappa).toBe(rui?.kappa.kappa);
    expect(content.result.judged).toMatchObject([{ figure: 'kappa' }]);
  });

  it('refuses plans that cannot be computed, naming the field', async () => {
    const field = async (change: object) => (await api.as('technician').call(planGaugeStudy, { body: { ...plan(), ...change } })).problem.errors?.map((error) => error.field);
    expect(await field({ people: ['Ana'] })).toEqual(['people']);
    expect(await field({ repeats: 1 })).toEqual(['repeats']);
    expect(await field({ gaugeId: null })).toEqual(['gaugeId']);
    expect(await field({ design: 'nested', parts: ['H1', 'H2', 'H3'] })).toEqual(['parts']);
    expect(await field({ design: 'agreement' })).toEqual(['scale']);
    expect((await api.as('technician').call(planGaugeStudy, { body: { ...plan(), gaugeId: 999_999 } })).status).toBe(404);
  });
});

it('judges by the thresholds that the plant sets, and keeps the earlier ones', async () => {
  expect((await api.as('manager').call(getStudyThresholds, {})).body).toMatchObject({ gaugeAccept: 0.1, gaugeReject: 0.3, categories: 5, source: 'common practice, no source', setBy: null });
  const change = { gaugeAccept: 0.15, gaugeReject: 0.25, categories: 4, kappaAccept: 0.8, kappaReject: 0.5, source: 'agreed with the customer', reason: 'contract of this year' };
  expect((await api.as('manager').call(changeStudyThresholds, { body: { ...change, gaugeReject: 0.1 } })).problem.errors?.[0]?.field).toBe('gaugeReject');
  expect((await api.as('manager').call(changeStudyThresholds, { body: change })).body).toMatchObject({ gaugeAccept: 0.15, setBy: 'Test manager' });
  await expect(database.work.client.studyThreshold.updateMany({ data: { categories: 1 } })).rejects.toThrow();
});

it('keeps calibrations and knows how a gauge stood at any moment', async () => {
  const { gaugeId } = plant;
  const calibrate = (calibratedAt: string, result: 'passed' | 'failed', dueAt: string | null) => api.as('technician').call(recordCalibration, { params: { id: gaugeId }, body: { calibratedAt, result, certificate: `C-${calibratedAt.slice(0, 10)}`, calibratedBy: 'Test laboratory', dueAt } });
  await database.work.client.gauge.update({ where: { plantId_id: { plantId: plant.plantId, id: gaugeId } }, data: { calibrationDue: new Date('2026-04-15T00:00:00Z') } });
  const overdueOf = async () => (await api.as('manager').call(getCapability, { query: question() })).body.streams[0]?.gauges[0]?.overdue;
  const readings = await overdueOf();
  expect(readings).toBeGreaterThan(0);
  expect((await calibrate('2026-05-10T00:00:00Z', 'passed', '2026-06-10T00:00:00Z')).status).toBe(201);
  expect((await calibrate('2026-06-20T00:00:00Z', 'failed', null)).status).toBe(201);
  expect((await calibrate('2026-06-21T00:00:00Z', 'passed', null)).problem.errors?.[0]?.field).toBe('dueAt');
  const at = async (moment: string) => (await gaugeStanding(database.work.read, plant.plantId, { gaugeId, characteristicId: plant.characteristics['body-hook'], at: new Date(moment) }))?.calibration;
  expect(await at('2026-04-01T00:00:00Z')).toBe('in-calibration');
  expect(await at('2026-05-01T00:00:00Z')).toBe('overdue');
  expect(await at('2026-05-20T00:00:00Z')).toBe('in-calibration');
  expect(await at('2026-06-15T00:00:00Z')).toBe('overdue');
  expect(await at('2026-07-01T00:00:00Z')).toBe('failed');
  // The newer calibration does not make good what was measured before it.
  expect(await overdueOf()).toBe(readings);
  const { body: { calibrations } } = await api.as('manager').call(listCalibrations, { params: { id: gaugeId } });
  expect(calibrations.map(({ result, certificate }) => [result, certificate])).toEqual([['failed', 'C-2026-06-20'], ['passed', 'C-2026-05-10']]);
  await expect(database.work.client.gaugeCalibration.deleteMany({})).rejects.toThrow();
});
