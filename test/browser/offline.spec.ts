import type { Page, Route } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { accessible, type Installation, install, picture, settle, signIn, type Visit } from './harness.js';

// Checks entered by keyboard alone, and without the network: cut at each step, with reloads in between, and with the server killed.
const CANS = 12;
const POINTS = ['front', 'middle', 'back'];
/** A hand at the keys: closer presses are taken for a gauge. */
const HAND_MS = 45;

let installation: Installation;
let engineer: Visit;
let visit: Visit;
let page: Page;
let machineId = 0;
let productId = 0;
let planId = 0;
const errors: string[] = [];

/** A request as the engineer, beside the page that is tried. */
async function ask(method: 'GET' | 'POST' | 'PUT', path: string, data?: unknown): Promise<unknown> {
  const session = await engineer.context.request.get(`${engineer.url}/api/session`);
  const { csrf } = (await session.json()) as { csrf: string };
  const answer = await engineer.context.request.fetch(engineer.url + path, { method, headers: { 'x-csrf-token': csrf }, ...(data === undefined ? {} : { data }) });
  expect(answer.ok(), `${method} ${path}: ${await answer.text()}`).toBe(true);
  return answer.json();
}
type Listed = { id: number; plan: string | null; source: string; takenAt: string; enteredAt: string };
const storedChecks = async () => ((await ask('GET', `/api/checks?machine=${machineId}&take=500`)) as { checks: Listed[] }).checks.filter(({ plan }) => plan === 'Twelve cans');
const sheetAddress = () => `${visit.url}/log?machine=${machineId}&product=${productId}&plan=${planId}`;
const firstCell = () => page.getByLabel('Can 1, weld overlap, point front, mm');
const open = async () => { await page.goto(sheetAddress()); await firstCell().waitFor(); };
const isPost = (route: Route) => route.request().method() === 'POST';

beforeAll(async () => {
  installation = await install();
  engineer = await installation.open();
  await signIn(engineer);
  const plant = (await ask('GET', '/api/plant')) as { lines: { steps: { machines: { id: number; code: string }[] }[] }[]; checkPlans: { machineId: number; productId: number }[] };
  machineId = plant.lines.flatMap(({ steps }) => steps.flatMap(({ machines }) => machines)).find(({ code }) => code === 'BM21')?.id ?? 0;
  productId = plant.checkPlans.find((plan) => plan.machineId === machineId)?.productId ?? 0;
  planId = ((await ask('POST', '/api/check-plans', { machineId, productId, name: 'Twelve cans', cans: CANS, perUnit: false, perLane: false, positions: POINTS, characteristics: ['weld-overlap'], everyMinutes: null, intervalSource: '' })) as { id: number }).id;
  visit = await installation.open({ width: 1024, height: 768 });
  page = visit.page;
  page.on('pageerror', (error) => errors.push(error.message));
  await signIn(visit, 'sedge');
  await open();
  await page.evaluate('navigator.serviceWorker.ready.then(() => true)');
});
afterAll(async () => { await visit.close(); await engineer.close(); await installation.close(); });

/** Fills the grid as fast as a gauge would, Enter after each number. */
async function fill(from = 0): Promise<void> {
  const start = page.locator('.cell-input').nth(from);
  await start.focus();
  for (let cell = from; cell < CANS * POINTS.length; cell += 1) {
    await page.keyboard.type(String(44 + (cell % 5)));
    await page.keyboard.press('Enter');
  }
  await page.getByText('36 of 36 readings').waitFor();
}
const save = () => page.getByRole('button', { name: 'Save and judge' }).click();
const keptHere = () => page.getByRole('heading', { name: 'Kept on this device' }).waitFor();
const queued = (state: 'Waiting' | 'Sending' | 'Stored' | 'Needs you') => page.locator('.queue-row').getByText(state, { exact: true });
/** Exactly one more check than before, and the queue says that it is stored. */
async function storedOnce(before: number): Promise<Listed> {
  for (let wait = 0; wait < 150 && (await storedChecks()).length === before; wait += 1) await page.waitForTimeout(200);
  // Whatever was still on its way would arrive now.
  await page.reload();
  await settle(page);
  await page.waitForTimeout(1_000);
  const checks = await storedChecks();
  expect(checks).toHaveLength(before + 1);
  expect(await page.locator('.queue-row').filter({ hasNotText: 'Stored' }).count(), 'nothing waits any more').toBe(0);
  const clear = page.getByRole('button', { name: /off this list$/ });
  if ((await clear.count()) > 0) await clear.click();
  return checks.reduce((last, check) => (check.id > last.id ? check : last));
}

it('takes 12 cans x 3 points by keyboard alone, with at most one key a digit and one a cell', async () => {
  const before = (await storedChecks()).length;
  await page.evaluate("(() => { window.pressed = 0; document.addEventListener('keydown', () => { window.pressed += 1; }, true); })()");
  await firstCell().focus();
  let digits = 0;
  for (let cell = 0; cell < CANS * POINTS.length; cell += 1) {
    const text = String(44 + (cell % 5));
    digits += text.length;
    for (const digit of text) await page.keyboard.press(digit, { delay: HAND_MS });
    if (cell === 1) await page.getByText('2 of 36 readings').waitFor();
  }
  await page.getByText('36 of 36 readings').waitFor();
  const pressed = await page.evaluate<number>('window.pressed');
  expect(digits).toBe(72);
  expect(pressed, 'the grid goes on by itself').toBe(digits);
  expect(pressed).toBeLessThanOrEqual(digits + CANS * POINTS.length);
  await expect.poll(() => firstCell().inputValue()).toBe('0.44');
  // Out of the last cell, and save.
  await page.keyboard.press('Enter');
  await page.keyboard.press('Enter');
  await page.getByText(/Check \d+ is stored/).waitFor();
  expect(await storedChecks()).toHaveLength(before + 1);
});

it('gives the same readings to a hand that presses Enter after each number, one key more a cell', async () => {
  await page.getByRole('button', { name: 'Next check' }).click();
  await page.evaluate('window.pressed = 0');
  await firstCell().focus();
  for (let cell = 0; cell < CANS * POINTS.length; cell += 1) {
    for (const digit of String(44 + (cell % 5))) await page.keyboard.press(digit, { delay: HAND_MS });
    await page.keyboard.press('Enter', { delay: HAND_MS });
  }
  await page.getByText('36 of 36 readings').waitFor();
  expect(await page.evaluate<number>('window.pressed')).toBe(72 + 36);
  const values = await page.locator('.cell-input').evaluateAll((cells) => cells.map((cell) => (cell as unknown as { value: string }).value));
  expect(values).toEqual(Array.from({ length: 36 }, (_, cell) => `0.${44 + (cell % 5)}`));
});

it('shows what digits count as before they count, takes steps back, leaves out with a reason and keeps a second reading', async () => {
  const cell = page.getByLabel('Can 2, weld overlap, point middle, mm');
  await cell.focus();
  await page.keyboard.press('4', { delay: HAND_MS });
  await page.getByText('“4” counts as 0.04 mm').waitFor();
  await picture(page, 'entry-shorthand');
  await page.keyboard.type('.7');
  expect(await cell.inputValue(), 'a point is placed by the person').toBe('4.7');
  await page.keyboard.press('Control+z');
  await expect.poll(() => cell.inputValue()).toBe('0.48');
  await page.keyboard.press('Control+y');
  await expect.poll(() => cell.inputValue()).toBe('4.7');
  await page.getByRole('button', { name: 'Undo' }).click();
  await page.getByRole('button', { name: 'Second reading' }).click();
  await page.getByLabel('Second reading (mm)').fill('49');
  await page.getByText('Counts as 0.49 mm.').waitFor();
  await accessible(page, 'second reading');
  await page.getByRole('button', { name: 'Keep second reading' }).click();
  await page.getByText('2nd: 0.49').waitFor();
  await page.getByLabel('Can 12, weld overlap, point back, mm').focus();
  await page.getByRole('button', { name: 'Leave out' }).click();
  await page.getByText('The whole can', { exact: true }).click();
  await picture(page, 'entry-leave-out');
  await accessible(page, 'leave out');
  await page.getByRole('button', { name: 'Can damaged' }).click();
  await page.getByText('33 of 36 readings, 3 left out').waitFor();
  await page.getByRole('button', { name: 'Number pad', exact: true }).click();
  await page.getByLabel('Can 1, weld overlap, point middle, mm').focus();
  await page.getByRole('button', { name: '5', exact: true }).click();
  await page.waitForTimeout(HAND_MS);
  await page.getByRole('button', { name: '1', exact: true }).click();
  await expect.poll(() => page.getByLabel('Can 1, weld overlap, point middle, mm').inputValue()).toBe('0.51');
  await picture(page, 'entry-pad');
  await accessible(page, 'entry with number pad');
  await page.getByRole('button', { name: 'Hide pad' }).click();
  await save();
  await page.getByText(/Check \d+ is stored/).waitFor();
  const id = Number(/Check (\d+) is stored/.exec(await page.getByText(/Check \d+ is stored/).textContent() ?? '')?.[1]);
  const check = (await ask('GET', `/api/checks/${id}`)) as { skips: unknown[]; secondReadings: unknown[]; source: string; begunAt: string; finishedAt: string };
  expect(check.skips).toEqual([{ can: 11, characteristic: null, position: null, reason: 'Can damaged' }]);
  expect(check.secondReadings).toEqual([{ characteristic: 'weld-overlap', can: 1, position: 1, value: 0.49 }]);
  expect(check.source).toBe('entry');
  expect(new Date(check.begunAt) < new Date(check.finishedAt)).toBe(true);
});

it('opens, takes a check and keeps it without the network, over a reload, and sends it once when the network is back', async () => {
  const before = (await storedChecks()).length;
  await visit.context.setOffline(true);
  await page.close();
  page = await visit.context.newPage();
  page.setDefaultTimeout(20_000);
  await open();
  await page.getByText('No network: entries are kept here').waitFor();
  const began = Date.now();
  await fill();
  await save();
  await keptHere();
  await picture(page, 'entry-kept');
  await accessible(page, 'kept offline');
  await page.reload();
  await queued('Waiting').waitFor();
  await page.getByText(/One check waits to be sent/).waitFor();
  await page.getByRole('heading', { name: /Last checks of/ }).waitFor();
  expect(await page.getByRole('link', { name: /^\d+$/ }).count(), 'the last verdicts are there').toBeGreaterThan(0);
  await picture(page, 'entry-queue-waiting');
  await accessible(page, 'queue without network');
  const finished = Date.now();
  await page.waitForTimeout(1_500);
  await visit.context.setOffline(false);
  const check = await storedOnce(before);
  expect(check.source).toBe('offline');
  expect(new Date(check.takenAt).getTime(), 'its own time, not the time of sending').toBeLessThanOrEqual(finished);
  expect(new Date(check.takenAt).getTime()).toBeGreaterThan(began - 60_000);
  expect(new Date(check.enteredAt).getTime()).toBeGreaterThan(finished);
});

it('loses the network while typing, is reloaded, and goes on where it was', async () => {
  const before = (await storedChecks()).length;
  await open();
  await firstCell().focus();
  await page.keyboard.type('45');
  await page.keyboard.press('Enter');
  await visit.context.setOffline(true);
  await page.keyboard.type('46');
  await page.keyboard.press('Enter');
  await page.reload();
  await page.getByText('This is the entry you had begun. Nothing was lost.').waitFor();
  await page.getByText('2 of 36 readings').waitFor();
  await fill(2);
  await save();
  await keptHere();
  await visit.context.setOffline(false);
  // The page that waits shows the verdict as soon as it comes.
  await page.getByText(/Check \d+ is stored/).waitFor();
  await storedOnce(before);
});

it('loses the network at sending', async () => {
  const before = (await storedChecks()).length;
  await open();
  await fill();
  await page.route('**/api/checks', (route) => (isPost(route) ? route.abort('internetdisconnected') : route.continue()));
  await save();
  await keptHere();
  await page.reload();
  await queued('Sending').waitFor();
  await page.unroute('**/api/checks');
  await storedOnce(before);
});

it('loses the answer after the server committed, is reloaded, and stores nothing twice', async () => {
  const before = (await storedChecks()).length;
  await open();
  await fill();
  let reached = 0;
  await page.route('**/api/checks', async (route) => {
    if (!isPost(route)) return route.continue();
    await route.fetch();
    reached += 1;
    return route.abort('connectionreset');
  });
  await save();
  await keptHere();
  expect(await storedChecks(), 'the server has it, the page does not know').toHaveLength(before + 1);
  await page.reload();
  await queued('Sending').waitFor();
  expect(reached).toBeGreaterThan(0);
  await page.unroute('**/api/checks');
  await storedOnce(before);
});

it('has the server killed between commit and answer, and stores nothing twice after it is started again', async () => {
  const before = (await storedChecks()).length;
  await open();
  await fill();
  await page.route('**/api/checks', async (route) => {
    if (!isPost(route)) return route.continue();
    await route.fetch();
    await installation.kill();
    return route.abort('connectionreset');
  });
  await save();
  await keptHere();
  await page.unroute('**/api/checks');
  await page.reload();
  await queued('Sending').waitFor();
  await page.getByText('No network: entries are kept here').waitFor();
  await installation.restart();
  await storedOnce(before);
});

it('keeps the queue when the session ends meanwhile, and sends it after the same person signed in again', async () => {
  const before = (await storedChecks()).length;
  await open();
  await visit.context.setOffline(true);
  await page.reload();
  await fill();
  await save();
  await keptHere();
  await visit.context.clearCookies();
  await visit.context.setOffline(false);
  await page.getByLabel('Login name').waitFor();
  expect(await storedChecks()).toHaveLength(before);
  // Somebody else signs in on the same tablet: the check waits for its owner.
  await page.getByLabel('Login name').fill('quinta');
  await page.locator('input[type=password]').fill('seamledger-demo');
  await page.getByRole('button', { name: 'Sign in' }).click();
  await page.getByText(/One check of .+ waits in this browser/).waitFor();
  expect(await storedChecks()).toHaveLength(before);
  await page.getByRole('button', { name: 'Sign out' }).click();
  await page.getByLabel('Login name').waitFor();
  await signIn({ ...visit, page }, 'sedge');
  await open();
  await storedOnce(before);
});

it('brings a check back whose specification changed and whose machine was retired meanwhile, and sends it as measured when told', async () => {
  const before = (await storedChecks()).length;
  await open();
  await visit.context.setOffline(true);
  await page.reload();
  await fill();
  await save();
  await keptHere();
  await ask('PUT', `/api/machines/${machineId}`, { name: 'Body maker 21', retired: true, addUnits: [] });
  await visit.context.setOffline(false);
  await page.getByRole('heading', { name: 'The check needs you' }).waitFor();
  await page.getByText('The machine is no longer there, or is retired.').waitFor();
  await picture(page, 'entry-needs-you');
  await accessible(page, 'needs you');
  expect(await storedChecks()).toHaveLength(before);
  await ask('PUT', `/api/machines/${machineId}`, { name: 'Body maker 21', retired: false, addUnits: [] });
  await page.getByRole('button', { name: 'Send as it was measured' }).click();
  await storedOnce(before);
});

it('raised no error in the page on the way', () => {
  expect(errors).toEqual([]);
});
