import { expect, it } from 'vitest';
import { accessible, picture, settle, signIn, visitDemo } from './harness.js';

// Studies as records: a gauge study from plan to verdict by keyboard, a capability study kept and signed by a second person.
const { installation, visit, page, errors } = await visitDemo({ width: 1024, height: 768, dark: true });

it('plans a gauge study and takes its readings blind, by keyboard alone', async () => {
  await page.goto(`${visit.url}/studies?kind=before-after`);
  await page.getByText('No study is of this kind and state.').waitFor();
  await accessible(page, 'studies-empty');
  await picture(page, 'studies-empty');
  await page.getByRole('link', { name: 'New gauge study' }).click();
  await page.getByLabel('Title').fill('Body hook, micrometer of the bench');
  await page.getByLabel('Characteristic').selectOption({ label: 'Body hook' });
  await page.getByLabel('Gauge', { exact: true }).selectOption({ index: 1 });
  await page.getByLabel('People, one a line').fill('Ana\nRui');
  await page.getByLabel('Parts, one a line').fill('P1\nP2\nP3');
  await page.getByText('12 readings in all').waitFor();
  await accessible(page, 'gauge-plan');
  await picture(page, 'gauge-plan');
  await page.getByRole('button', { name: 'Plan it' }).press('Enter');
  for (const [person, name] of ['Ana', 'Rui'].entries()) {
    await page.getByRole('button', { name: `${name}: 0 of 6` }).press('Enter');
    for (let place = 1; place <= 6; place += 1) {
      await page.getByText(`${name}. Reading ${place} of 6`).waitFor();
      const part = Number(/\d/.exec(await page.getByRole('heading', { name: /^Part P\d$/ }).textContent() ?? '')?.[0]);
      if (person === 0 && place === 2) { await accessible(page, 'blind-sheet'); await picture(page, 'blind-sheet'); }
      expect(await page.getByLabel(/^Body hook in mm/).inputValue()).toBe('');
      await page.keyboard.type((1.6 + 0.05 * part + 0.002 * person + 0.001 * (place % 2)).toFixed(3));
      await page.keyboard.press('Enter');
    }
    await page.getByText(`${name} has measured everything.`).waitFor();
    await page.getByRole('button', { name: 'Another person' }).press('Enter');
  }
  await page.getByRole('button', { name: 'Close the sheet and compute' }).press('Enter');
  await page.getByText(/^Verdict: /).waitFor();
  await page.getByText('Sources of variation').waitFor();
  await accessible(page, 'gauge-result');
  await picture(page, 'gauge-result');
}, 180_000);

it('keeps what the Capability screen shows, and leaves checking to a second person', async () => {
  await page.goto(`${visit.url}/capability`);
  await settle(page);
  for (const label of ['Product', 'Machine', 'Characteristic']) {
    const field = page.getByLabel(label, { exact: true });
    if ((await field.count()) > 0 && (await field.inputValue()) === '') await field.selectOption({ index: 1 });
    await settle(page);
  }
  await page.getByRole('button', { name: 'Keep as a study' }).click();
  await page.getByLabel(/^Checks left out/).fill('nothing');
  await page.getByText('Line 1: a check number and a reason').waitFor();
  await page.getByLabel(/^Checks left out/).fill('');
  await accessible(page, 'keep-capability');
  await picture(page, 'keep-capability');
  await page.getByRole('button', { name: 'Keep', exact: true }).click();
  await page.getByText('You made this study: another person checks and approves it.').waitFor({ timeout: 60_000 });
  await picture(page, 'capability-kept');
  const address = page.url();

  const other = await installation.open({ width: 1280, height: 900 });
  await signIn(other, 'marrow');
  await other.page.goto(address);
  for (const [act, state] of [['Sign as checked', 'checked'], ['Sign as approved', 'approved']] as const) {
    await other.page.getByRole('button', { name: act }).click();
    await other.page.getByRole('textbox', { name: 'Your password' }).fill('seamledger-demo');
    await other.page.getByRole('button', { name: 'Sign', exact: true }).click();
    await other.page.getByText(new RegExp(`: ${state}, `)).first().waitFor();
  }
  await other.page.getByText(/: approved, \d/).first().waitFor();
  await accessible(other.page, 'capability-approved');
  await picture(other.page, 'capability-approved');
  await other.page.goto(`${other.url}/studies`);
  await settle(other.page);
  await picture(other.page, 'studies');
  await other.page.goto(`${other.url}/studies/gauges`);
  await settle(other.page);
  await accessible(other.page, 'gauges');
  await picture(other.page, 'gauges');
  await other.close();
}, 180_000);

it('raised no error in the page on the way', () => { expect(errors).toEqual([]); });
