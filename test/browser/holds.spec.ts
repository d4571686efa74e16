import { expect, it } from 'vitest';
import { getHold, listHolds } from '#contract/holds';
import { listIncidents } from '#contract/incidents';
import { accessible, picture, settle, signIn, visitDemo } from './harness.js';

// An engineer reads a code, holds product back and records what was decided. The browser stands in another zone than the plant.
const { installation, visit, page, errors } = await visitDemo();

const get = async (path: string): Promise<unknown> => (await page.request.get(`${visit.url}${path}`)).json();

it('lists the holds, those that are not decided first', async () => {
  await page.getByRole('link', { name: 'Holds', exact: true }).click();
  await page.getByRole('heading', { level: 1, name: 'Holds' }).waitFor();
  await page.getByText('4 holds, 2 not decided').waitFor();
  await settle(page);
  const words = await page.getByRole('row').locator('.state').allTextContents();
  expect(words.slice(0, 2).sort()).toEqual(['Placed', 'Under examination']);
  expect(words.slice(2).sort()).toEqual(['Decided pallet by pallet', 'Released']);
  await accessible(page, 'holds');
  await picture(page, 'holds');
});

it('says what a clean sample bounds, and how many cans would have been needed', async () => {
  const { rows } = listHolds.answer.parse(await get('/api/holds'));
  await page.goto(`${visit.url}/holds/${rows.find(({ state }) => state === 'under-examination')?.id}`);
  await page.getByText('0 of 200 found bounds the share at 1.49 % with 95 % confidence.', { exact: false }).waitFor();
  await page.getByText('299 cans were needed for 1.00 % at 5.00 % risk: this sample is too small to say that.').waitFor();
  await page.getByText('299 cans, none of them defective: a lot with 1 % defective passes with no more than 5 % chance.').waitFor();
  await page.getByLabel('Cans in the lot').fill('100');
  await page.getByText(/^9\d cans, none of them defective/).waitFor();
  await accessible(page, 'hold');
  await picture(page, 'hold');
});

it('places a hold from an incident: computes cans and pallets, and keeps what was shown', async () => {
  const { rows } = listIncidents.answer.parse(await get('/api/incidents?state=not-closed'));
  const incident = rows.find(({ line }) => line === 'L2');
  await page.goto(`${visit.url}/incidents/${incident?.id}`);
  await page.getByRole('link', { name: 'Place a hold on this span' }).click();
  await page.getByText(`For incident ${incident?.id}`).waitFor();
  const from = await page.getByLabel('Last known good').inputValue();
  await page.getByLabel('Until', { exact: false }).first().fill(new Date(Date.parse(`${from}Z`) + 3_600_000).toISOString().slice(0, from.length));
  // The form fills in the times of the line; here the cans are counted where they were sampled.
  for (const label of ['Shortest', 'Longest']) for (const field of await page.getByLabel(label, { exact: true }).all()) await field.fill('0');
  await page.getByLabel('Pallets in a minute').fill('0.1');
  await page.getByLabel('A pallet was begun at').fill(from);
  await page.getByRole('button', { name: 'Compute the pallets' }).click();
  await page.getByText('6 pallets are touched.').waitFor();
  expect((await page.getByLabel('Pallets', { exact: true }).inputValue()).split('\n')).toHaveLength(6);
  await page.getByText('6 listed').waitFor();
  await page.getByLabel('Why').fill('Short body hooks on several heads.');
  await accessible(page, 'new hold');
  await picture(page, 'hold-new');
  await page.getByRole('button', { name: 'Place the hold' }).click();
  await page.getByRole('heading', { level: 1, name: /^Hold \d+: L2/ }).waitFor();
  const placed = getHold.answer.parse(await get(`/api/holds/${new URL(page.url()).pathname.split('/').at(-1)}`));
  expect(placed).toMatchObject({ state: 'placed', incidentId: incident?.id, pallets: 6, arithmetic: { pallets: { listed: 6, gapMinutes: 0 } } });
  expect(placed.suspectCans).toBeGreaterThan(10_000);
});

it('records a decision only after the caution was acknowledged', async () => {
  expect(await page.getByLabel('What was decided').locator('option').allTextContents()).toEqual(['–', 'Scrapped', 'Returned']);
  await page.getByLabel('What was decided').selectOption('scrapped');
  await page.getByText('Only the ticked ones').click();
  await page.getByLabel('P1', { exact: true }).check();
  await page.getByLabel('Reason').fill('Fell off the truck.');
  await page.getByLabel('In the role of').fill('Quality manager');
  const record = page.getByRole('button', { name: 'Record the decision' });
  expect(await record.isDisabled()).toBe(true);
  await page.getByLabel('I have read this', { exact: false }).check();
  await record.click();
  await page.getByText('Scrapped: P1. Decided by Ilse Quintavale, Quality manager.').waitFor();
  await page.getByRole('button', { name: 'Begin the examination' }).click();
  await page.getByRole('heading', { name: 'Re-inspection' }).waitFor();
});

it('reads the code of a complaint as it is typed, by the clock of the plant, and says why another is none', async () => {
  const { rows } = listIncidents.answer.parse(await get('/api/incidents'));
  const known = rows.find(({ canCode }) => / A$/.test(canCode));
  if (!known) throw new Error('the demo plant has no code of half A');
  await page.goto(`${visit.url}/incidents/new`);
  await page.getByLabel('Code on the can').fill(known.canCode.toLowerCase());
  const clock = /(\d\d)(\d\d) A$/.exec(known.canCode);
  await page.getByText(/^L1 A: .* \(1 min\)$/).waitFor();
  await expect.poll(() => page.getByLabel('Cans made at').inputValue()).toMatch(new RegExp(`T${clock?.[1]}:${clock?.[2]}$`));
  expect(await page.getByLabel('Line', { exact: false }).first().inputValue()).toBe(String(known.lineId));
  expect(await page.getByLabel('Half', { exact: true }).inputValue()).toBe(String(known.laneId));
  await accessible(page, 'new incident');
  await picture(page, 'incident-code');
  await page.getByLabel('Cans made at').fill('2026-01-05T10:00');
  await page.getByText('Overruled: the time below is your own.').waitFor();
  expect(await page.getByLabel('Cans made at').inputValue()).toBe('2026-01-05T10:00');
  await page.getByRole('button', { name: 'Take what the code says' }).click();
  await expect.poll(() => page.getByLabel('Cans made at').inputValue()).toMatch(new RegExp(`T${clock?.[1]}:${clock?.[2]}$`));
  await page.getByLabel('Code on the can').fill(known.canCode.replace(/ \d{5} /, ' 25399 '));
  await page.getByText('The code cannot be right:').waitFor();
  await page.getByText('L1: there is no day 399 of 2025.').waitFor();
  await page.getByLabel('Code on the can').fill('XQ 12');
  await page.getByText('No pattern of this plant fits the code:').waitFor();
});

it('tries a pattern before it is saved, and saves it with the meaning that was ticked', async () => {
  await page.goto(`${visit.url}/set-up?section=codes`);
  await page.getByRole('button', { name: 'Add a pattern' }).click();
  await page.getByLabel('Line', { exact: true }).selectOption({ label: 'L3: Line 3' });
  await page.getByRole('textbox', { name: 'Pattern' }).fill('{year:2}{day}');
  await page.getByText(/^At character 14: needs a field for the day/).waitFor();
  await page.getByRole('textbox', { name: 'Pattern' }).fill('{year:2}{day-of-year}{hour}');
  await page.getByText('A can made now would carry').waitFor();
  await page.getByLabel('A code from a can').fill('2506014');
  const save = page.getByRole('button', { name: 'Save' });
  await page.getByLabel(/^It reads: L3, 1 Mar 2025/).check();
  await accessible(page, 'can codes');
  await picture(page, 'set-up-can-codes');
  await save.click();
  await page.getByText('superseded').waitFor();
});

it('fits a tablet, in the dark', async () => {
  const tablet = await installation.open({ width: 1024, height: 768, dark: true });
  await signIn(tablet);
  await tablet.page.goto(`${tablet.url}/holds/1`);
  await tablet.page.getByRole('heading', { name: 'What it covers' }).waitFor();
  await accessible(tablet.page, 'hold on a tablet');
  expect(await tablet.page.evaluate<boolean>('document.documentElement.scrollWidth <= window.innerWidth')).toBe(true);
  await picture(tablet.page, 'hold-tablet-dark');
  await tablet.close();
  expect(errors).toEqual([]);
});
