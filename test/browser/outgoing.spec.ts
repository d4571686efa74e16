import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { getPlant } from '#contract/plant';
import { stopServer } from '../start/server-process.js';
import { accessible, type Installation, install, picture, settle, signIn, type Visit } from './harness.js';

// An administrator puts a screen on the wall and tells another program; a person chooses e-mails and a calendar.
let installation: Installation;
let visit: Visit;
let page: Page;
let receiver: Server;
let taken = 0;
let wallAddress: string;
const errors: string[] = [];
beforeAll(async () => {
  receiver = createServer((request, response) => { request.resume().on('end', () => { taken += 1; response.end('taken'); }); });
  await new Promise<void>((resolve) => { receiver.listen(0, '127.0.0.1', resolve); });
  installation = await install();
  visit = await installation.open({ width: 1024, height: 768 });
  page = visit.page;
  page.on('pageerror', (error) => errors.push(error.message));
  await signIn(visit, 'admin');
});
afterAll(async () => { receiver.close(); await visit.close(); await installation.close(); });

it('makes a wall screen, whose address is shown once', async () => {
  await page.goto(`${visit.url}/set-up`);
  await page.getByRole('link', { name: 'Messages out' }).click();
  await page.getByText('There is no wall screen yet.').waitFor();
  await accessible(page, 'messages out, empty');
  await picture(page, 'messages-out-empty');
  await page.getByLabel('Name of the screen').fill('Seamer hall');
  await page.getByRole('button', { name: 'Make a wall screen' }).click();
  wallAddress = (await page.locator('pre').textContent()) ?? '';
  expect(wallAddress).toMatch(/\/wall#token=[\w-]{43}$/);
  await page.getByRole('button', { name: 'I have kept it' }).click();
  await page.getByRole('button', { name: 'Revoke Seamer hall' }).waitFor();
  await page.getByText(wallAddress).waitFor({ state: 'detached' });
});

it('adds a webhook, sends a test, and shows in the log what became of it', async () => {
  await page.getByRole('textbox', { name: 'Name', exact: true }).fill('Line tower');
  await page.getByRole('textbox', { name: /^Address/ }).fill(`http://127.0.0.1:${(receiver.address() as AddressInfo).port}/tower`);
  await page.getByLabel('May lie inside the plant’s network').check();
  await page.getByRole('button', { name: 'Add a webhook' }).click();
  await page.getByText('Secret of “Line tower”').waitFor();
  await picture(page, 'messages-out-secret');
  await page.getByRole('button', { name: 'I have kept it' }).click();
  await page.getByRole('button', { name: 'Send a test to Line tower' }).click();
  await page.getByText('HTTP status 200').waitFor();
  expect(taken).toBe(1);
  await accessible(page, 'messages out');
  await picture(page, 'messages-out');
});

it('tells a webhook only in a shift of the plant and outside quiet hours, and shows what was not sent and why', async () => {
  await page.getByText('at any hour · every day').first().waitFor();
  await page.getByRole('button', { name: 'Change when Line tower is told' }).click();
  const form = page.getByRole('form', { name: 'When Line tower is told' });
  await form.getByRole('radio', { name: 'In shifts of the plant' }).check();
  await form.getByRole('button', { name: 'Save' }).click();
  await form.getByText('Choose at least one shift, or other hours.').waitFor();
  const shift = form.getByRole('group', { name: 'Shifts' }).getByRole('checkbox').first();
  const name = ((await shift.getAttribute('value')) ?? '').trim();
  expect(name).not.toBe('');
  await shift.check();
  await form.getByLabel('Quiet from').fill('22:00');
  await form.getByLabel('Quiet until').fill('06:00');
  await accessible(page, 'hours of a webhook');
  await form.scrollIntoViewIfNeeded();
  await picture(page, 'messages-out-hours');
  await form.getByRole('button', { name: 'Save' }).click();
  await form.waitFor({ state: 'detached' });
  await page.getByText(`shift ${name} · every day · quiet 22:00 to 06:00`).waitFor();
  // From now on only on days that are not today's or its neighbours': a check falls due by a change of coil, and that is not sent.
  await page.getByRole('button', { name: 'Change when Line tower is told' }).click();
  await form.getByRole('radio', { name: 'At any hour' }).check();
  await form.getByLabel('Quiet from').fill('');
  await form.getByLabel('Quiet until').fill('');
  const days = ['Sunday', 'Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday'];
  const today = new Date().getUTCDay();
  for (const near of [-1, 0, 1]) await form.getByRole('checkbox', { name: days[(today + near + 7) % 7] ?? '' }).uncheck();
  await form.getByRole('button', { name: 'Save' }).click();
  await form.waitFor({ state: 'detached' });
  const quality = await installation.open();
  await signIn(quality);
  const get = async (path: string): Promise<unknown> => (await quality.page.request.get(`${quality.url}${path}`)).json();
  const { csrf } = await get('/api/session') as { csrf: string };
  const plant = getPlant.answer.parse(await get('/api/plant'));
  const plan = plant.checkPlans.find(({ name: each }) => each === 'Weld check BM21');
  const check = { key: 'before-the-coil-1', planId: plan?.id, machineId: plan?.machineId, productId: plan?.productId, takenAt: new Date(Date.now() - 2000).toISOString(), cans: [1, 2, 3, 4, 5].map((number) => ({ number })), positions: ['front', 'middle', 'back'], characteristics: [{ code: 'weld-overlap', readings: Array.from({ length: 15 }, (_, index) => 0.43 + (index % 3) / 100) }] };
  const sent = await quality.page.request.post(`${quality.url}/api/checks`, { headers: { 'x-csrf-token': csrf }, data: check });
  expect(sent.status(), await sent.text()).toBe(201);
  const line = plant.lines.find(({ steps }) => steps.some(({ machines }) => machines.some(({ id }) => id === plan?.machineId)));
  const coil = await quality.page.request.post(`${quality.url}/api/line-events`, { headers: { 'x-csrf-token': csrf }, data: { lineId: line?.id, machineId: plan?.machineId, kind: 'coil-change', at: new Date(Date.now() - 500).toISOString(), text: 'coil 4712' } });
  expect(coil.status(), await coil.text()).toBe(201);
  await quality.close();
  // The program looks for what has fallen due every 20 s.
  for (let tries = 0; tries < 60 && (await page.getByText('came on a day that is not chosen').count()) === 0; tries += 1) { await page.waitForTimeout(500); await page.reload(); await settle(page); }
  const row = page.getByRole('row').filter({ hasText: 'came on a day that is not chosen' }).first();
  await row.getByText(/^not sent/).waitFor();
  await row.scrollIntoViewIfNeeded();
  await accessible(page, 'log with a message that was not sent');
  await picture(page, 'messages-out-not-sent');
  const before = taken;
  await row.getByRole('button', { name: /^Send message \d+ now$/ }).click();
  await expect.poll(() => taken, { timeout: 15_000 }).toBe(before + 1);
}, 120_000);

it('lets a person choose e-mails and make a calendar address', async () => {
  await page.goto(`${visit.url}/account`);
  await page.getByRole('link', { name: 'My notices' }).click();
  await page.getByText('No mail server is set').waitFor();
  await page.getByLabel('E-mail address').fill('adele@plant.example');
  await page.getByLabel('Quiet from').fill('22:00');
  await page.getByRole('button', { name: 'Save' }).click();
  await page.getByText('Give both ends of the quiet hours').waitFor();
  await page.getByLabel('Quiet until').fill('06:00');
  await page.getByRole('button', { name: 'Save' }).click();
  await page.getByRole('button', { name: 'End all e-mails to me' }).waitFor();
  await page.getByRole('button', { name: 'Make an address' }).click();
  const address = (await page.locator('pre').textContent()) ?? '';
  expect((await (await page.request.get(address)).text()).startsWith('BEGIN:VCALENDAR')).toBe(true);
  await page.getByRole('radio', { name: 'In hours given here' }).check();
  await accessible(page, 'my notices');
  await picture(page, 'my-notices');
});

for (const dark of [false, true]) {
  it(`shows the board on a wall screen, ${dark ? 'dark' : 'light'}, and opens nothing else`, async () => {
    const wall = await installation.open({ width: 1920, height: 1080, dark });
    wall.page.on('pageerror', (error) => errors.push(error.message));
    await wall.page.goto(wallAddress);
    await wall.page.getByText('As of').waitFor();
    expect(new URL(wall.page.url()).hash).toBe('');
    await settle(wall.page);
    await accessible(wall.page, `wall ${dark}`);
    await picture(wall.page, dark ? 'wall-dark' : 'wall');
    // Everything fits: nobody scrolls a wall.
    expect(await wall.page.evaluate<boolean>('document.documentElement.scrollHeight <= window.innerHeight')).toBe(true);
    await wall.page.reload();
    await wall.page.getByText('As of').waitFor();
    expect((await wall.page.request.get(`${wall.url}/api/signals`)).status()).toBe(401);
    await wall.page.goto(wall.url);
    await wall.page.getByLabel('Login name').waitFor();
    await wall.close();
  });
}

it('says in words that a revoked screen may not show the board, and that the connection is lost', async () => {
  const revoked = await installation.open({ width: 1920, height: 1080 });
  await revoked.page.goto(wallAddress);
  await revoked.page.getByText('As of').waitFor();
  await page.goto(`${visit.url}/messages-out`);
  await page.getByRole('button', { name: 'Revoke Seamer hall' }).click();
  await page.getByText('revoked', { exact: true }).waitFor();
  await revoked.page.reload();
  await revoked.page.getByText('This screen may not show the board').waitFor();
  await picture(revoked.page, 'wall-refused');
  await page.getByLabel('Name of the screen').fill('Second screen');
  await page.getByRole('button', { name: 'Make a wall screen' }).click();
  await revoked.page.goto('about:blank');
  await revoked.page.goto((await page.locator('pre').textContent()) ?? '');
  await revoked.page.getByText('As of').waitFor();
  await stopServer(installation.server);
  await revoked.page.getByText('No connection to the server since').waitFor({ timeout: 60_000 });
  await picture(revoked.page, 'wall-lost');
  await revoked.close();
  expect(errors).toEqual([]);
});
