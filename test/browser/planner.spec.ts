import type { Page } from 'playwright-core';
import { afterAll, expect, it } from 'vitest';
import { accessible, keepPictures, picture, settle, signIn, visitDemo } from './harness.js';

// An engineer plans the checks of one seaming head: each test goes on where the last one ended.
const { installation, visit, page, errors } = await visitDemo({ login: null });

const computed = async (on: Page = page) => {
  await on.getByRole('row', { name: /^False alarm once in/ }).getByText(/ d$|beyond counting/).first().waitFor();
  await settle(on);
  for (let wait = 0; wait < 100 && (await on.getByText('computing …').count()) > 0; wait += 1) await on.waitForTimeout(100);
  expect(await on.getByText('computing …').count()).toBe(0);
};
const cell = async (heading: RegExp, column: number, on: Page = page) => ((await on.getByRole('row', { name: heading }).getByRole('cell').nth(column).textContent()) ?? '').trim();
const cansOf = (text: string) => Number((/([\d,.]+) cans/.exec(text)?.[1] ?? 'none').replaceAll(',', ''));

it('starts from what a stream varies by and how it is checked today', async () => {
  await signIn(visit);
  await page.goto(`${visit.url}/planner`);
  await page.getByRole('heading', { level: 1, name: 'Planner' }).waitFor();
  await page.getByRole('heading', { name: 'What the variation consists of' }).waitFor();
  await page.getByLabel('Machine').selectOption({ label: 'SM1 Seamer 1' });
  await page.getByLabel('Characteristic').selectOption({ label: 'Body hook' });
  await page.getByText(/^\d+ checks, \d+ cans, \d+ readings, .*; mean 1\.\d+ mm\.$/).waitFor();
  // One can of each head a check: what differs between checks and between cans cannot be told apart, and that is said.
  await page.getByText(/^\d+ % between checks and cans together: standard deviation 0\.\d+ mm/).waitFor();
  await page.getByText(/Where sources stand together these checks cannot tell them apart/).waitFor();
  await computed();
  expect(await cell(/^Cans a check/, 0)).toBe('1');
  expect(await cell(/^Positions a can/, 0)).toBe('3');
  expect(await cell(/^Minutes between checks/, 0)).toBe('240');
  expect(cansOf(await cell(/^1 sigma/, 0))).toBeGreaterThan(cansOf(await cell(/^3 sigma/, 0)));
  await accessible(page, 'planner');
  await picture(page, 'planner');
});

it('compares a changed plan with today’s: fewer cans pass, more are torn down', async () => {
  await page.getByLabel('Plan 2: Minutes between checks').fill('60');
  await page.getByLabel('Plan 2: Minutes between checks').press('Enter');
  await computed();
  expect(new URL(page.url()).searchParams.getAll('plan')).toEqual([expect.stringMatching(/^1_3_60_rules_/) as string]);
  expect(cansOf(await cell(/^1 sigma/, 1))).toBeLessThan(cansOf(await cell(/^1 sigma/, 0)) / 2);
  expect(cansOf(await cell(/^Cans torn down a day/, 1))).toBeCloseTo(4 * cansOf(await cell(/^Cans torn down a day/, 0)), 0);
  await page.getByLabel('Plan 2: Cans a check').fill('many');
  await page.getByText('A number from 1 to 100').waitFor();
  await page.getByLabel('Plan 2: Cans a check').fill('1');
  await page.getByLabel('Plan 2: Cans a check').press('Enter');
});

it('sets a CUSUM and an EWMA beside them, and a shift of interest in mm, all of it in the address', async () => {
  await page.getByRole('button', { name: 'Add a plan' }).click();
  await page.getByLabel('Plan 3: Chart').selectOption('cusum');
  await page.getByRole('button', { name: 'Add a plan' }).click();
  await page.getByLabel('Plan 4: Chart').selectOption('ewma');
  await page.getByLabel('Shift of interest (mm)').fill('0,02');
  await page.getByLabel('Shift of interest (mm)').press('Enter');
  await page.getByRole('row', { name: /^Shift of interest: 0\.0200 mm/ }).waitFor();
  await computed();
  expect(await page.getByRole('button', { name: 'Add a plan' }).count()).toBe(0);
  expect(cansOf(await cell(/^Shift of interest/, 2))).toBeGreaterThan(0);
  await page.locator('[data-plot=drawn]').waitFor();
  await accessible(page, 'planner with four plans');
  await picture(page, 'planner-four-plans');
  const fresh = await installation.open();
  await signIn(fresh);
  await fresh.page.goto(page.url());
  await computed(fresh.page);
  for (const column of [0, 1, 2, 3]) expect(await cell(/^Shift of interest/, column, fresh.page)).toBe(await cell(/^Shift of interest/, column));
  await fresh.close();
});

it('takes rules over into the check plan, and says why a CUSUM cannot be', async () => {
  await page.getByRole('button', { name: 'Plan 3: Take over …' }).click();
  await page.getByText(/This plan judges by CUSUM\. A stream cannot be charted by it yet/).waitFor();
  await page.getByRole('button', { name: 'Cancel' }).click();
  await page.getByRole('button', { name: 'Plan 2: Take over …' }).click();
  await page.getByText('Minutes between checks: 240 → 60').waitFor();
  await page.getByText(/\d+ other streams are measured by this plan and change with it/).waitFor();
  await page.getByRole('button', { name: 'Take over', exact: true }).click();
  await page.getByText('A reason of at least 3 characters').waitFor();
  await page.getByLabel('Reason').fill('A drift of the body hook is to be seen within the shift');
  await accessible(page, 'planner, taking over');
  await page.getByRole('button', { name: 'Take over', exact: true }).click();
  await page.getByText('Taken over. The check plan and the rules hold from the next check on.').waitFor();
  await computed();
  expect(await cell(/^Minutes between checks/, 0)).toBe('60');
});

it('works with typed figures on a dark tablet, without a violation or sideways scrolling', async () => {
  const tablet = await installation.open({ width: 1024, height: 768, dark: true });
  await signIn(tablet, 'brandt');
  await tablet.page.goto(`${tablet.url}/planner?typed=1&unit=mm`);
  await tablet.page.getByText('State at least one standard deviation above 0.').waitFor();
  await tablet.page.getByLabel('Sd between cans (mm)').fill('0.02');
  await tablet.page.getByLabel('Sd between cans (mm)').press('Enter');
  await computed(tablet.page);
  // Without a speed there are times and no cans.
  expect(await cell(/^1 sigma/, 0, tablet.page)).not.toContain('cans');
  await tablet.page.getByLabel('Cans a minute').fill('400');
  await tablet.page.getByLabel('Cans a minute').press('Enter');
  await computed(tablet.page);
  expect(await cell(/^1 sigma/, 0, tablet.page)).toContain('cans');
  expect(await tablet.page.getByRole('button', { name: /Take over/ }).count()).toBe(0);
  await settle(tablet.page);
  await accessible(tablet.page, 'planner on a dark tablet');
  await picture(tablet.page, 'tablet-dark-planner');
  expect(await tablet.page.evaluate<number>('document.documentElement.scrollWidth - document.documentElement.clientWidth'), 'the page itself does not scroll sideways').toBeLessThanOrEqual(0);
  await tablet.close();
});

afterAll(() => keepPictures(['planner-four-plans']));

it('raised no error in the page on the way', () => {
  expect(errors).toEqual([]);
});
