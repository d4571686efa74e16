import { deflateSync } from 'node:zlib';
import type { Page } from 'playwright-core';
import { expect, it } from 'vitest';
import { listDueChecks } from '#contract/due-checks';
import { getCheck, listChecks } from '#contract/inspections';
import { getPlant } from '#contract/plant';
import { listSignals } from '#contract/signals';
import { accessible, picture, settle, signIn, visitDemo } from './harness.js';

// A seamer whose heads take turns, entered on a tablet: the grid of the turn, a photo of a section taken without the network, and pages without a stream of events.
const { installation, visit: desk, page: engineer } = await visitDemo();
const tablet = await installation.open({ width: 1024, height: 768, dark: true });
const errors: string[] = [];
const page: Page = tablet.page;
page.on('pageerror', (error) => errors.push(error.message));
await signIn(tablet, 'sedge');

async function ask(method: 'GET' | 'POST' | 'PUT', path: string, data?: unknown): Promise<unknown> {
  const { csrf } = (await (await engineer.request.get(`${desk.url}/api/session`)).json()) as { csrf: string };
  const answer = await engineer.request.fetch(desk.url + path, { method, headers: { 'x-csrf-token': csrf }, ...(data === undefined ? {} : { data }) });
  expect(answer.ok(), `${method} ${path}: ${await answer.text()}`).toBe(true);
  return answer.json();
}

/** A picture of 24 x 24 points, as a camera might have taken it: RFC 2083 chunks, one colour. */
function png(red: number): Buffer {
  const table = Array.from({ length: 256 }, (_, n) => { let c = n; for (let k = 0; k < 8; k += 1) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1; return c >>> 0; });
  const crc = (bytes: Buffer) => { let c = 0xffffffff; for (const byte of bytes) c = (table[(c ^ byte) & 0xff] ?? 0) ^ (c >>> 8); return (c ^ 0xffffffff) >>> 0; };
  const chunk = (kind: string, data: Buffer) => { const body = Buffer.concat([Buffer.from(kind, 'latin1'), data]); const head = Buffer.alloc(4); head.writeUInt32BE(data.length); const tail = Buffer.alloc(4); tail.writeUInt32BE(crc(body)); return Buffer.concat([head, body, tail]); };
  const header = Buffer.from([0, 0, 0, 24, 0, 0, 0, 24, 8, 2, 0, 0, 0]);
  const rows = Buffer.concat(Array.from({ length: 24 }, () => Buffer.from([0, ...Array.from({ length: 24 }, () => [red, 90, 40]).flat()])));
  return Buffer.concat([Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]), chunk('IHDR', header), chunk('IDAT', deflateSync(rows)), chunk('IEND', Buffer.alloc(0))]);
}
const section = (name: string, red: number) => ({ name, mimeType: 'image/png', buffer: png(red) });

const plant = getPlant.answer.parse(await ask('GET', '/api/plant'));
const seamer = plant.lines.flatMap(({ steps }) => steps.filter(({ kind }) => kind === 'seamer').flatMap(({ machines }) => machines)).find(({ id, units }) => units.length >= 4 && plant.checkPlans.some(({ machineId }) => machineId === id));
const productId = plant.checkPlans.find(({ machineId }) => machineId === seamer?.id)?.productId ?? plant.checkPlans[0]?.productId;
const codes = [...(seamer?.units ?? [])].sort((a, b) => a.position - b.position).map(({ code }) => code);
const { id: planId } = (await ask('POST', '/api/check-plans', { machineId: seamer?.id, productId, name: 'Heads in turn', cans: 1, perUnit: true, perLane: false, positions: ['a'], characteristics: ['body-hook'], everyMinutes: 1, intervalSource: 'trial', unitsEachTime: 2 })) as { id: number };
const storedCheck = async () => {
  for (let wait = 0; wait < 100; wait += 1) {
    const found = listChecks.answer.parse(await ask('GET', `/api/checks?machine=${seamer?.id}&take=50`)).checks.find(({ plan }) => plan === 'Heads in turn');
    if (found) return getCheck.answer.parse(await ask('GET', `/api/checks/${found.id}`));
    await page.waitForTimeout(200);
  }
  throw new Error('the check was not stored in 20 s');
};

it('asks for the heads whose turn it is, and for another one on request', async () => {
  const due = listDueChecks.answer.parse(await ask('GET', '/api/due-checks')).due.find((entry) => entry.planId === planId);
  expect(due?.units.map(({ code }) => code)).toEqual(codes.slice(0, 2));
  await page.goto(`${tablet.url}/log`);
  await page.getByRole('heading', { name: 'Checks due' }).waitFor();
  const showAll = page.getByRole('button', { name: /^Show all/ });
  if (await showAll.count() > 0) await showAll.click();
  await page.getByRole('link', { name: `Log it: Heads in turn on ${seamer?.code}` }).click();
  await page.getByText(`Asked for here: ${codes[0]}, ${codes[1]}, whose turn it is.`).waitFor();
  expect(await page.locator('.cell-input').count()).toBe(2);
  await page.locator('.cell-input').first().focus();
  await page.keyboard.type('1.9');
  await page.getByText(/^\d+ other units?$/).click();
  await page.getByRole('button', { name: `Ask for ${codes[3]}, too` }).click();
  await page.getByText(`Asked for here: ${codes[0]}, ${codes[1]}, ${codes[3]}, whose turn it is.`).waitFor();
  expect(await page.locator('.cell-input').count()).toBe(3);
  expect(await page.locator('.cell-input').first().inputValue(), 'what was typed stays').toBe('1.9');
  await page.reload();
  await page.getByText('This is the entry you had begun. Nothing was lost.').waitFor();
  expect(await page.locator('.cell-input').count()).toBe(3);
  await accessible(page, 'heads in turn');
  await picture(page, 'entry-turn');
});

it('takes a photo without the network, keeps it over a reload, and brings it to its check', async () => {
  await page.evaluate('navigator.serviceWorker.ready.then(() => true)');
  await tablet.context.setOffline(true);
  await page.locator('.cell-input').nth(1).focus();
  await page.locator('input[type=file][capture]').setInputFiles(section('head 2.png', 180));
  await page.getByText('head 2.png, can 2').waitFor();
  await page.locator('input[type=file]:not([capture])').setInputFiles([{ name: 'notes.txt', mimeType: 'text/plain', buffer: Buffer.from('no picture') }]);
  await page.getByText('“notes.txt” is not a JPEG, PNG or WebP picture.').waitFor();
  await page.reload();
  await page.getByText('head 2.png, can 2').waitFor();
  for (const [place, text] of ['1.9', '1.91', '1.92'].entries()) { await page.locator('.cell-input').nth(place).focus(); await page.keyboard.press('Control+a'); await page.keyboard.type(text); }
  await settle(page);
  await accessible(page, 'entry with photo');
  await picture(page, 'entry-photo');
  await page.getByRole('button', { name: 'Save and judge' }).click();
  await page.getByRole('heading', { name: 'Kept on this device' }).waitFor();
  await tablet.context.setOffline(false);
  const check = await storedCheck();
  expect(check.cans.map(({ unit }) => unit)).toEqual([codes[0], codes[1], codes[3]]);
  await expect.poll(async () => (await storedCheck()).photos.map(({ fileName, can }) => `${fileName} ${can}`), { timeout: 30_000 }).toEqual(['head 2.png 1']);
  await page.goto(`${tablet.url}/checks/${check.id}`);
  await page.getByRole('img', { name: 'Photo 1: head 2.png, can 2' }).waitFor();
  await page.getByLabel('Can shown').selectOption({ label: 'can 3' });
  await page.locator('input[type=file]:not([capture])').setInputFiles(section('head 4.png', 60));
  await page.getByRole('img', { name: 'Photo 2: head 4.png, can 3' }).waitFor();
  // More than one request takes.
  await page.locator('input[type=file]:not([capture])').setInputFiles(Array.from({ length: 11 }, (_, index) => section(`more ${index + 1}.png`, 100 + index)));
  await page.getByText('more 11.png, can 3', { exact: false }).scrollIntoViewIfNeeded();
  await page.getByRole('img', { name: 'Photo 13: more 11.png, can 3' }).waitFor();
  await page.getByRole('heading', { name: 'Photos', exact: true }).scrollIntoViewIfNeeded();
  await accessible(page, 'check with photos');
  await picture(page, 'check-photos');
});

it('shows an entry of the queue that it cannot read, with its text to copy', async () => {
  await page.evaluate(`new Promise((done, failed) => { const open = indexedDB.open('seamledger'); open.onerror = () => failed(open.error); open.onsuccess = () => {
    const tx = open.result.transaction('queue', 'readwrite');
    tx.objectStore('queue').add({ key: 'from-another-version', personId: ${((await (await page.request.get(`${tablet.url}/api/session`)).json()) as { person: { id: number } }).person.id}, personName: 'Sedge', measured: [1.91, 1.92] });
    tx.oncomplete = () => { open.result.close(); done(true); }; tx.onerror = () => failed(tx.error); }; })`);
  await page.goto(`${tablet.url}/log`);
  await page.getByText('An entry that cannot be read').waitFor();
  expect(await page.getByLabel('The entry as it is kept').inputValue()).toContain('1.91');
  await accessible(page, 'unreadable entry');
  await picture(page, 'entry-unreadable');
  await page.getByRole('button', { name: 'Discard' }).click();
  await page.getByRole('button', { name: 'Discard for good: the readings are lost' }).click();
  await expect.poll(() => page.getByText('An entry that cannot be read').count()).toBe(0);
});

it.each([['has no stream of events', true], ['cannot reach the stream of events', false]])('learns by the clock what changed where the browser %s', { timeout: 120_000 }, async (_what, without) => {
  const visit = await installation.open();
  if (without) await visit.context.addInitScript('delete window.EventSource');
  else await visit.context.route('**/api/live', (route) => route.abort('connectionrefused'));
  await signIn(visit);
  const { signals } = listSignals.answer.parse(await ask('GET', '/api/signals?state=open&take=2'));
  const signal = signals[0];
  await visit.page.goto(`${visit.url}/signals/${signal?.id}`);
  await visit.page.getByRole('button', { name: 'Acknowledge' }).waitFor();
  await settle(visit.page);
  expect(await visit.page.evaluate('typeof EventSource')).toBe(without ? 'undefined' : 'function');
  // Somebody else acknowledges it; nobody touches this page.
  await ask('POST', `/api/signals/${signal?.id}/acknowledge`, { state: 'open' });
  await visit.page.getByRole('button', { name: 'Acknowledge' }).waitFor({ state: 'detached', timeout: 45_000 });
  await visit.close();
});

it('raised no error in the page on the way', async () => {
  expect(errors).toEqual([]);
  await tablet.close();
});
