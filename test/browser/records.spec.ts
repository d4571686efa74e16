import { expect, it } from 'vitest';
import { accessible, picture, settle, visitDemo } from './harness.js';

// The review of the day's records by a second person, and the comparison of everything stored with its seals, on the demo plant.
const { visit, page, errors } = await visitDemo();

it('lists what waits, oldest first, and signs what is chosen with the password asked anew', async () => {
  await page.goto(`${visit.url}/records`);
  await settle(page);
  const waiting = Number(/\d+/.exec(await page.getByText(/^\d+ records wait$/).textContent() ?? '')?.[0]);
  expect(waiting).toBeGreaterThan(10);
  await accessible(page, 'records');
  await picture(page, 'records');
  await page.getByRole('checkbox', { name: /^Choose check \d+$/ }).first().click();
  await page.getByRole('button', { name: /^Sign \d+ records as reviewed$/ }).click();
  await page.getByText('A review by a second person is no release of product.').waitFor();
  await page.getByRole('textbox', { name: 'Your password' }).fill('not my password at all');
  await page.getByRole('button', { name: 'Sign', exact: true }).click();
  await page.getByText('The present password is another one.').waitFor();
  await page.getByRole('textbox', { name: 'Your password' }).fill('seamledger-demo');
  await accessible(page, 'records-sign');
  await picture(page, 'records-sign');
  await page.getByRole('button', { name: 'Sign', exact: true }).press('Enter');
  await page.getByText(/^\d+ records signed\.$/).waitFor();
  await page.getByText(new RegExp(`^(?!${waiting} )\\d+ records? waits?$`)).waitFor();
});

it('shows the signature under the record, with name, role, meaning, time and fingerprint', async () => {
  await page.goto(`${visit.url}/checks/1`);
  await page.getByText(/, engineer: reviewed, /).waitFor();
  await page.getByText(/^Fingerprint of the record \(SHA-256\): [0-9a-f]{64}$/).waitFor();
  await picture(page, 'record-signed');
});

it('compares everything with its seals, and says that nothing differs', async () => {
  await page.goto(`${visit.url}/records`);
  await page.getByRole('button', { name: 'Compare now' }).click();
  await page.getByText('Nothing differs').waitFor({ timeout: 60_000 });
  await page.getByText(/^Head of the chain: \d+:[0-9a-f]{64}$/).waitFor();
  await picture(page, 'records-verified');
});

it('raised no error in the page on the way', () => { expect(errors).toEqual([]); });
