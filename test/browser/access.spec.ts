import { expect, it } from 'vitest';
import { getPlant } from '#contract/plant';
import { accessible, picture, settle, signIn, visitDemo } from './harness.js';

// The lock over a half-filled form, the sessions of an account, what an auditor sees, and retention in Set-up, on the demo plant.
const { installation, visit, page, errors } = await visitDemo({ login: 'admin' });

it('locks over a half-filled form and gives it back as it was', async () => {
  await page.goto(`${visit.url}/incidents/new`);
  await settle(page);
  const words = page.getByRole('textbox', { name: 'What was seen' }).first();
  await words.fill('Half a sentence that nobody has sent');
  // Another page of the same browser locks the session; this one learns it with its next request.
  const locked = await page.evaluate(async () => {
    const { csrf } = await (await fetch('/api/session')).json() as { csrf: string };
    return (await fetch('/api/session/lock', { method: 'POST', headers: { 'x-csrf-token': csrf } })).status;
  });
  expect(locked).toBe(200);
  await page.getByRole('textbox', { name: /code on the can/i }).fill('L1 26314 1705');
  await page.getByRole('heading', { name: 'Locked' }).waitFor({ timeout: 60_000 });
  await accessible(page, 'lock');
  await picture(page, 'access-lock');
  await page.keyboard.type('not the password');
  await page.keyboard.press('Enter');
  await page.getByText('The present password is another one.').waitFor();
  await page.getByRole('textbox', { name: 'Your password' }).fill('seamledger-demo');
  await page.keyboard.press('Enter');
  await page.getByRole('heading', { name: 'Locked' }).waitFor({ state: 'detached' });
  expect(await words.inputValue()).toBe('Half a sentence that nobody has sent');
}, 180_000);

it('lists where the account is signed in', async () => {
  await page.goto(`${visit.url}/account`);
  await page.getByRole('heading', { name: 'Where you are signed in' }).waitFor();
  await page.getByRole('cell', { name: 'This one' }).waitFor();
  await accessible(page, 'account');
  await picture(page, 'access-account');
}, 120_000);

it('sets what an auditor sees, under Set-up, People', async () => {
  await page.goto(`${visit.url}/set-up?section=people`);
  await page.getByText(/^auditor: Skerrylight Fish Cannery, /).waitFor();
  await page.getByText('Sessions lock after 15 min.').waitFor();
  await accessible(page, 'people');
  await picture(page, 'access-people');
  await page.getByRole('button', { name: /Change Calla/ }).click();
  await page.getByRole('textbox', { name: 'Period from' }).waitFor();
  await picture(page, 'access-people-edit');
}, 120_000);

it('lists under Set-up, Retention what rules and legal holds say, and deletes nothing by itself', async () => {
  await page.goto(`${visit.url}/set-up?section=retention`);
  await page.getByText('No rule is set for checks: all are kept.').waitFor();
  await page.getByRole('button', { name: /Change Checks and their readings/ }).click();
  await page.getByRole('textbox', { name: 'Rests on' }).fill('21 CFR 113.100(g)');
  await page.getByRole('textbox', { name: 'Why (kept with the version)' }).fill('Three years, as the customers ask');
  await page.getByRole('button', { name: 'Save' }).click();
  await page.getByText('None: every check is younger than its retention.').waitFor();
  await page.getByRole('button', { name: 'Place a legal hold' }).click();
  await page.getByRole('textbox', { name: 'Name', exact: true }).fill('Claim of the summer');
  await page.getByRole('textbox', { name: 'Why' }).fill('Counsel asked for it');
  await page.getByRole('button', { name: 'Save' }).click();
  await page.getByText(/at least one of customer, product, incident/).first().waitFor();
  await page.getByRole('spinbutton', { name: 'Incident number' }).or(page.getByRole('textbox', { name: 'Incident number' })).fill('1');
  await page.getByRole('button', { name: 'Save' }).click();
  await page.getByText('incident 1 and its line').waitFor();
  await accessible(page, 'retention');
  await picture(page, 'access-retention');
  // One check that is past its time: what the administrator is asked before it goes.
  const { csrf } = await (await page.request.get(`${visit.url}/api/session`)).json() as { csrf: string };
  const { lines, products } = getPlant.answer.parse(await (await page.request.get(`${visit.url}/api/plant`)).json());
  const machine = lines.flatMap(({ steps }) => steps.flatMap(({ machines }) => machines)).find(({ code }) => code === 'BM11');
  const old = await page.request.post(`${visit.url}/api/checks`, { headers: { 'x-csrf-token': csrf }, data: { key: 'past its retention', machineId: machine?.id, productId: products[0]?.id, takenAt: '2020-02-03T08:30:00Z', cans: [{ number: 1 }], positions: ['front'], characteristics: [{ code: 'weld-overlap', readings: [0.42] }] } });
  expect(old.status(), await old.text()).toBe(201);
  await page.reload();
  await page.getByRole('button', { name: 'Delete 1 check …' }).click();
  await page.getByRole('dialog').getByLabel('Your password').waitFor();
  await accessible(page, 'delete for good');
  await picture(page, 'access-delete-for-good');
  await page.emulateMedia({ colorScheme: 'dark' });
  await accessible(page, 'delete for good, dark');
  await page.emulateMedia({ colorScheme: 'light' });
  await page.getByRole('dialog').getByRole('button', { name: 'Cancel' }).last().click();
}, 120_000);

it('shows an auditor their customer and nothing else, on a dark tablet', async () => {
  const tablet = await installation.open({ width: 1024, height: 768, dark: true });
  tablet.page.on('pageerror', (error) => errors.push(error.message));
  const refused: string[] = [];
  tablet.page.on('response', (response) => { if (response.status() === 403 || response.status() === 404) refused.push(response.url()); });
  await signIn(tablet, 'audit');
  await tablet.page.getByText(/^Auditor’s view: products of Skerrylight Fish Cannery, /).waitFor();
  await settle(tablet.page);
  await picture(tablet.page, 'access-auditor-charts');
  await tablet.page.getByRole('link', { name: 'Incidents', exact: true }).click();
  await settle(tablet.page);
  await accessible(tablet.page, 'auditor-incidents');
  await picture(tablet.page, 'access-auditor-incidents');
  const text = await tablet.page.locator('body').textContent();
  expect(text).not.toMatch(/Tumblepaw|Morrowfield/);
  await tablet.page.getByRole('table').getByRole('link').first().click();
  await tablet.page.getByRole('link', { name: 'Back to the list' }).or(tablet.page.getByRole('heading', { level: 1 })).first().waitFor();
  await settle(tablet.page);
  await picture(tablet.page, 'access-auditor-incident');
  await tablet.page.goto(`${tablet.url}/signals?state=all`);
  await settle(tablet.page);
  await picture(tablet.page, 'access-auditor-signals');
  await tablet.page.goto(`${tablet.url}/capability`);
  await settle(tablet.page);
  await picture(tablet.page, 'access-auditor-capability');
  // An address of the plant's own pages leads to a plain word and to what there is, without a refused request.
  await tablet.page.goto(`${tablet.url}/studies`);
  await tablet.page.getByRole('heading', { name: 'Not part of an auditor’s view' }).waitFor();
  await accessible(tablet.page, 'auditor-elsewhere');
  await picture(tablet.page, 'access-auditor-elsewhere');
  await tablet.page.getByRole('navigation', { name: 'What you can look at' }).getByRole('link', { name: 'Capability' }).click();
  await tablet.page.waitForURL('**/capability');
  await settle(tablet.page);
  expect(refused).toEqual([]);
  await tablet.close();
}, 180_000);

it('raised no error in the page on the way', () => { expect(errors).toEqual([]); });
