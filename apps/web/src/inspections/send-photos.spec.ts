import 'fake-indexeddb/auto';
import { beforeEach, expect, it } from 'vitest';
import { newCheck } from '#contract/inspections';
import { Problem, type ProblemCode, problemBody } from '#contract/problem';
import { OfflineError, ProblemError } from '../shared/http.js';
import { localDatabase } from '../shared/local-database.js';
import { photoFault } from './photo-fault.js';
import { changePhotosOf, dropPhotosOf, keepPhoto, type KeptPhoto, listPersonsPhotos, listPhotosOf, setRefused } from './photo-store.js';
import { changeQueued, enqueue } from './queue-store.js';
import { sendPhotos } from './send-photos.js';
import { sendQueue } from './send-queue.js';
import { sendStraight } from './send-straight.js';

const at = '2026-03-01T08:00:00.000Z';
const keep = (key: string, fileName: string, personId = 5) => keepPhoto({ key, personId, can: 1, fileName, blob: new Blob([fileName], { type: 'image/png' }), addedAt: at });
const refusal = (code: ProblemCode) => new ProblemError(problemBody(new Problem(code)));
/** Takes photos as the script says, and tells what it took: check, can, name and content. */
function server(script: ('ok' | 'away' | 'lost' | ProblemCode)[] = []) {
  const took: string[] = [];
  const send = async (photo: KeptPhoto & { checkId: number }) => {
    const next = script.shift() ?? 'ok';
    if (next === 'away') throw new OfflineError();
    if (next !== 'ok' && next !== 'lost') throw refusal(next);
    took.push(`${photo.checkId}/${photo.can} ${photo.fileName} ${await photo.blob.text()}`);
    if (next === 'lost') throw new OfflineError();
  };
  return { took, run: (signedIn: number | null = 5) => sendPhotos({ personId: 5, signedIn: async () => signedIn, send }) };
}
const left = async () => (await listPersonsPhotos(5)).map(({ fileName, refused }) => `${fileName} ${refused?.code ?? 'waits'}`);

beforeEach(async () => { const database = await localDatabase(); await database.clear('photos'); await database.clear('queue'); });

it('keeps photos until their check is stored, and sends each with its can', async () => {
  await keep('key-first', 'a.png');
  await keep('key-first', 'b.png');
  await keep('key-other', 'c.png');
  const { took, run } = server();
  expect(await run()).toBe('done');
  expect(took, 'no check yet').toEqual([]);
  await changePhotosOf('key-first', { checkId: 12 });
  expect(await run(6), 'another person is signed in').toBe('sign-in');
  expect(await run()).toBe('done');
  expect(took).toEqual(['12/1 a.png a.png', '12/1 b.png b.png']);
  expect(await left()).toEqual(['c.png waits']);
});

it('sends again what was lost on the way, waits for the network, and keeps what is refused with its reason', async () => {
  await keep('key-first', 'a.png');
  await keep('key-first', 'b.png');
  await changePhotosOf('key-first', { checkId: 12 });
  const { took, run } = server(['lost', 'ok', 'away', 'busy', 'too-large', 'ok']);
  expect(await run()).toBe('offline');
  expect(await left()).toEqual(['a.png waits', 'b.png waits']);
  expect(await run(), 'a again, then away').toBe('offline');
  expect(await run()).toBe('busy');
  expect(await run()).toBe('done');
  expect(await left()).toEqual(['b.png too-large']);
  expect(await run(), 'it is not tried by itself').toBe('done');
  const [refused] = await listPersonsPhotos(5);
  await setRefused(refused?.place ?? 0, null);
  expect(await run()).toBe('done');
  expect(took).toEqual(['12/1 a.png a.png', '12/1 a.png a.png', '12/1 b.png b.png']);
  expect(await left()).toEqual([]);
});

it('learns from the queue which check they belong to, also under another key, and goes with an entry that is thrown away', async () => {
  const check = newCheck.parse({ key: 'key-first', machineId: 1, productId: 2, planId: 3, takenAt: at, cans: [{ number: 1 }], positions: ['a'], characteristics: [{ code: 'hook', readings: [2.37] }] });
  const draft = { key: 'key-first', takenAt: at, begunAt: at, offline: false, inspector: 'A', note: '', units: [], photos: 1, cells: { hook: ['2.37'] }, skips: {}, second: {}, counts: {}, gauges: {} };
  const item = await enqueue({ key: 'key-first', personId: 5, personName: 'A', addedAt: at, label: { machine: 'M', product: 'P', plan: 'T' }, check, draft, basis: { plan: '', product: { bodyPlate: 0.15, endPlate: 0.19, overlapFactor: 1 }, specifications: {} } });
  await keep('key-first', 'a.png');
  await changeQueued(item.place, { key: 'key-second', check: { ...check, key: 'key-second' }, accepted: true });
  expect((await listPhotosOf('key-second')).map(({ checkId }) => checkId)).toEqual([null]);
  const outcome = await sendQueue({ personId: 5, signedIn: async () => 5, plant: async () => ({ machines: [], products: [], plans: [], characteristics: [], specifications: [], gauges: [] }), send: async () => ({ checkId: 44, repeated: false, status: 'steady', subgroups: [] }) });
  expect(outcome).toBe('done');
  expect((await listPhotosOf('key-second')).map(({ checkId }) => checkId)).toEqual([44]);
  await dropPhotosOf('key-second');
  expect(await listPersonsPhotos(5)).toEqual([]);
});

it('learns which check they belong to also where the check itself found no room in the queue', async () => {
  const check = newCheck.parse({ key: 'key-straight', machineId: 1, productId: 2, planId: 3, takenAt: at, cans: [{ number: 1 }], positions: ['a'], characteristics: [{ code: 'hook', readings: [2.37] }] });
  await keep('key-straight', 'a.png');
  await expect(sendStraight(check, async () => { throw new OfflineError(); })).rejects.toThrow(OfflineError);
  expect((await listPhotosOf('key-straight')).map(({ checkId }) => checkId)).toEqual([null]);
  expect(await sendStraight(check, async () => ({ checkId: 45, repeated: false, status: 'steady', subgroups: [] }))).toMatchObject({ checkId: 45 });
  const { took, run } = server();
  expect(await run()).toBe('done');
  expect(took).toEqual(['45/1 a.png a.png']);
});

it('says at once what no server takes', () => {
  expect(photoFault({ size: 10 * 1024 * 1024, type: 'image/jpeg' })).toBeNull();
  expect(photoFault({ size: 10 * 1024 * 1024 + 1, type: 'image/jpeg' })).toBe('large');
  expect(photoFault({ size: 10, type: 'image/svg+xml' })).toBe('type');
});
