import 'fake-indexeddb/auto';
import { array, assert, asyncProperty, constantFrom } from 'fast-check';
import { beforeEach, expect, it } from 'vitest';
import type { CheckVerdict, NewCheck } from '#contract/inspections';
import { Problem, type ProblemCode, problemBody } from '#contract/problem';
import { OfflineError, ProblemError } from '../shared/http.js';
import { localDatabase } from '../shared/local-database.js';
import { toNewCheck } from './entry-check.js';
import { newDraft, withCell } from './entry-draft.js';
import { basisOf, changedSince } from './queue-basis.js';
import { changeQueued, enqueue, findQueued, listOthers, listQueue, listUnreadable, removeQueued } from './queue-store.js';
import { type SendOutcome, sendQueue } from './send-queue.js';
import { choices, type EntryPlant, sheetOf } from './sheet.js';
import { withUnits } from './sheet-units.js';

const plant: EntryPlant = {
  machines: [{ id: 1, code: 'M1', name: 'Machine 1', line: 'Line 1', units: [], lanes: [] }], products: [{ id: 2, code: 'P', name: 'Can', bodyPlate: 0.15, endPlate: 0.19, overlapFactor: 1 }],
  plans: [{ id: 3, name: 'Teardown', machineId: 1, productId: 2, cans: 1, perUnit: false, perLane: false, positions: ['a'], characteristics: ['hook'] }],
  characteristics: [{ id: 7, code: 'hook', name: 'Hook', unit: 'mm', decimals: 2, kind: 'variable', gaugeStep: 0.01, plausibleLow: null, plausibleHigh: null, formula: null }],
  specifications: [{ productId: 2, characteristicId: 7, revision: 1, lsl: 1, target: null, usl: null }], gauges: [],
};
const sheet = sheetOf(plant, choices(plant, { machine: 1, product: 2, plan: 3 }));
if (!sheet) throw new Error('the plan of this spec has a sheet');
const at = '2026-03-01T08:00:00.000Z';
const put = (key: string, personId = 5, reading = '2.37') => {
  const draft = withCell(newDraft(sheet, { key, takenAt: at, inspector: 'A', gauges: {} }), 'hook', 0, reading);
  return enqueue({ key, personId, personName: `Person ${personId}`, addedAt: at, label: { machine: 'M1', product: 'P', plan: 'Teardown' }, check: toNewCheck(sheet, draft, false, at), draft, basis: basisOf(sheet) });
};
const refusal = (code: ProblemCode) => new ProblemError(problemBody(new Problem(code)));

/** What the server promises, in a few lines: a key is stored once, and answered the same again; another content under it is refused. */
function server(script: ('ok' | 'away' | 'lost' | ProblemCode)[] = []) {
  const stored = new Map<string, { content: string; id: number }>();
  const order: string[] = [];
  const send = async (check: NewCheck): Promise<CheckVerdict> => {
    const next = script.shift() ?? 'ok';
    if (next === 'away') throw new OfflineError();
    if (next !== 'ok' && next !== 'lost') throw refusal(next);
    const known = stored.get(check.key);
    if (known && known.content !== JSON.stringify(check)) throw refusal('key-reused');
    if (!known) { stored.set(check.key, { content: JSON.stringify(check), id: stored.size + 1 }); order.push(check.key); }
    if (next === 'lost') throw new OfflineError();
    return { checkId: stored.get(check.key)?.id ?? 0, repeated: known !== undefined, status: 'steady', subgroups: [] };
  };
  return { stored, order, send };
}
const run = (send: (check: NewCheck) => Promise<CheckVerdict>, more: { now?: EntryPlant; signedIn?: number | null } = {}): Promise<SendOutcome> =>
  sendQueue({ personId: 5, signedIn: async () => (more.signedIn === undefined ? 5 : more.signedIn), plant: async () => more.now ?? plant, send });
const states = async () => (await listQueue(5)).map(({ key, state }) => `${key} ${state}`);

beforeEach(async () => { await (await localDatabase()).clear('queue'); });

it('sends in the order of entry and keeps what the server said', async () => {
  await put('key-first'); await put('key-second'); await put('key-third');
  const { send, order } = server();
  expect(await run(send)).toBe('done');
  expect(order).toEqual(['key-first', 'key-second', 'key-third']);
  expect((await listQueue(5)).map(({ verdict }) => verdict?.checkId)).toEqual([1, 2, 3]);
  expect(await run(server(['internal']).send), 'nothing is sent twice').toBe('done');
});

it('puts a key in once: what was queued first is what is sent', async () => {
  await put('key-first');
  await put('key-first', 5, '2.99');
  expect((await listQueue(5)).map(({ check }) => check.characteristics[0]?.readings)).toEqual([[2.37]]);
});

it('stores once where the answer was lost, and goes on where it stood', async () => {
  await put('key-first'); await put('key-second');
  const { send, order, stored } = server(['lost', 'away', 'ok', 'lost']);
  expect(await run(send)).toBe('offline');
  expect(await states()).toEqual(['key-first sending', 'key-second waiting']);
  expect(await run(send)).toBe('offline');
  expect(await run(send)).toBe('offline');
  expect(await run(send)).toBe('done');
  expect([order, stored.size]).toEqual([['key-first', 'key-second'], 2]);
  expect((await findQueued('key-first'))?.verdict?.repeated).toBe(true);
});

it('keeps everything when the session is over, somebody else is signed in, or the server cannot take it now', async () => {
  await put('key-first');
  const untouched = server();
  expect(await run(untouched.send, { signedIn: null })).toBe('sign-in');
  expect(await run(untouched.send, { signedIn: 6 })).toBe('sign-in');
  expect(untouched.order).toEqual([]);
  for (const [code, outcome] of [['not-signed-in', 'sign-in'], ['request-forgery', 'sign-in'], ['database-unavailable', 'busy'], ['too-many-attempts', 'busy'], ['disk-full', 'busy'], ['internal', 'busy']] as const) {
    expect(await run(server([code]).send), code).toBe(outcome);
    expect(await states(), code).toEqual(['key-first waiting']);
  }
  expect(await run(untouched.send)).toBe('done');
});

it('gives a refused check back and sends those behind it', async () => {
  await put('key-first'); await put('key-second');
  const { send, order } = server(['invalid-input']);
  expect(await run(send)).toBe('done');
  expect(await states()).toEqual(['key-first needs-you', 'key-second stored']);
  expect((await findQueued('key-first'))?.conflict).toMatchObject({ kind: 'refused', problem: { code: 'invalid-input' } });
  expect(order).toEqual(['key-second']);
});

it.each([
  ['machine', { ...plant, machines: [] }], ['product', { ...plant, products: [] }], ['plan', { ...plant, plans: [] }],
  ['plan', { ...plant, plans: plant.plans.map((plan) => ({ ...plan, positions: ['a', 'b'] })) }], ['plate', { ...plant, products: plant.products.map((product) => ({ ...product, bodyPlate: 0.16 })) }],
  ['specification', { ...plant, specifications: plant.specifications.map((one) => ({ ...one, revision: 2 })) }], ['specification', { ...plant, specifications: [] }],
] as const)('gives a check back whose %s changed meanwhile, and sends it once the person says so', async (what, now) => {
  await put('key-first');
  const { send, order } = server();
  expect(await run(send, { now: now as EntryPlant })).toBe('done');
  const item = await findQueued('key-first');
  expect([item?.state, item?.conflict, order]).toEqual(['needs-you', { kind: 'changed', what: [what] }, []]);
  await changeQueued(item?.place ?? 0, { state: 'waiting', accepted: true, conflict: null });
  await run(send, { now: now as EntryPlant });
  expect(await states()).toEqual(['key-first stored']);
});

it('asks the server first where an earlier try may have arrived, whatever changed since', async () => {
  await put('key-first');
  const { send, stored } = server(['lost']);
  await run(send);
  expect(await run(send, { now: { ...plant, machines: [] } })).toBe('done');
  expect([await states(), stored.size]).toEqual([['key-first stored'], 1]);
});

it('gives back what it cannot read the answer to', async () => {
  await put('key-first');
  expect(await run(async () => { throw new TypeError('not the shape'); })).toBe('done');
  expect((await findQueued('key-first'))?.conflict).toEqual({ kind: 'unreadable' });
});

it('belongs to the person who entered it; others learn that something waits, not what', async () => {
  await put('key-first', 6); await put('key-second', 6); await put('key-third', 5);
  const { send, order } = server();
  await run(send);
  expect(order).toEqual(['key-third']);
  expect(await listOthers(5)).toEqual([{ name: 'Person 6', count: 2 }]);
  expect(await listOthers(6)).toEqual([]);
});

it('is not held up by a stored check whose answer has another shape than this version knows', async () => {
  const item = await put('key-first'); await put('key-second');
  await (await localDatabase()).put('queue', { ...item, state: 'stored', verdict: { checkId: 'another shape' } });
  expect(await run(server().send)).toBe('done');
  expect(await states()).toEqual(['key-first stored', 'key-second stored']);
});

it('can be sent again where the reason why it came back has another shape than this version knows', async () => {
  const item = await put('key-first');
  await (await localDatabase()).put('queue', { ...item, state: 'needs-you', conflict: { kind: 'refused', problem: 'another shape' } });
  expect((await listQueue(5)).map(({ state, conflict }) => [state, conflict])).toEqual([['needs-you', { kind: 'unreadable' }]]);
});

it('is not held up by an entry that cannot be read, and shows it as it is kept', async () => {
  await put('key-first');
  const broken = await (await localDatabase()).add('queue', { key: 'key-broken', personId: 5, personName: 'Person 5', check: { readings: [2.37] } });
  await put('key-third');
  const { send, order } = server();
  expect(await run(send)).toBe('done');
  expect(order).toEqual(['key-first', 'key-third']);
  const [row] = await listUnreadable(5);
  expect(row?.place).toBe(broken);
  expect(JSON.parse(row?.text ?? '')).toMatchObject({ key: 'key-broken', check: { readings: [2.37] } });
  expect(await listUnreadable(6)).toEqual([]);
  await removeQueued(broken);
  expect(await listUnreadable(5)).toEqual([]);
});

it('compares a check of the units whose turn it was with what the plan asks of those units', async () => {
  const units = [{ id: 31, code: 'H1' }, { id: 32, code: 'H2' }];
  const [machine] = plant.machines;
  if (!machine) throw new Error('the plant of this spec has a machine');
  const byUnit = { ...plant, machines: [{ ...machine, units }], plans: plant.plans.map((plan) => ({ ...plan, perUnit: true })) };
  const all = sheetOf(byUnit, choices(byUnit, { machine: 1, product: 2, plan: 3 }));
  if (!all) throw new Error('the plan of this spec has a sheet');
  const turn = withUnits(all, [32]);
  const draft = withCell(newDraft(turn, { key: 'key-turn', takenAt: at, inspector: 'A', gauges: {}, units: [32] }), 'hook', 0, '2.37');
  const item = { check: toNewCheck(turn, draft, false, at), draft, basis: basisOf(turn) };
  expect(item.check.cans).toEqual([{ number: 1, unitId: 32 }]);
  expect(changedSince(byUnit, item)).toEqual([]);
  expect(changedSince({ ...byUnit, machines: [{ ...machine, units: units.slice(0, 1) }] }, item), 'its unit is gone').toEqual(['plan']);
});

it('says so when an item was taken out in another window', async () => {
  const item = await put('key-first');
  await removeQueued(item.place);
  expect(await changeQueued(item.place, { state: 'sending' })).toBe(false);
});

it('stores each check exactly once and in order, however often network, server and sessions fail in between', async () => {
  const event = constantFrom('ok' as const, 'away' as const, 'lost' as const, 'not-signed-in' as const, 'busy' as const);
  await assert(asyncProperty(array(event, { maxLength: 12 }), async (script) => {
    await (await localDatabase()).clear('queue');
    const keys = ['key-first', 'key-second', 'key-third'];
    for (const key of keys) await put(key);
    const { send, order, stored } = server([...script]);
    for (let round = 0; round <= script.length + 1; round += 1) await run(send);
    expect(await states()).toEqual(keys.map((key) => `${key} stored`));
    expect([order, stored.size]).toEqual([keys, 3]);
  }), { numRuns: 60 });
});
