import { expect, it } from 'vitest';
import type { Page } from 'playwright-core';
import { accessible, picture, settle, signIn, visitDemo } from './harness.js';

// From what would fail the audit to the frozen pack, its files, its verification and its review by a second person, on the demo plant.
const { installation, visit, page, errors } = await visitDemo();

/** Goes on by Tab until what has the focus reads like this; answers its text. */
async function tabTo(on: Page, wanted: RegExp): Promise<string> {
  for (let presses = 0; presses < 300; presses += 1) {
    await on.keyboard.press('Tab');
    const text = await on.evaluate<string>("(document.activeElement?.getAttribute('aria-label') ?? document.activeElement?.textContent ?? '').trim()");
    if (wanted.test(text)) return text;
  }
  throw new Error(`nothing that reads ${wanted} has the focus within 300 presses of Tab`);
}
const CUSTOMER = 'Skerrylight Fish Cannery';

it('lists what must be explained, each with the way to it', async () => {
  await page.goto(`${visit.url}/packs`);
  await settle(page);
  await page.getByText(/^\d+ things must be explained or mended$/).waitFor({ timeout: 60_000 });
  expect(await page.getByRole('link', { name: /checks, the first after/ }).count()).toBeGreaterThan(0);
  await accessible(page, 'packs');
  await picture(page, 'packs');
  await page.getByRole('button', { name: 'Thresholds and sections' }).click();
  await page.getByText('The usual values; nobody has set others for this customer.', { exact: false }).waitFor();
  await accessible(page, 'packs-template');
  await picture(page, 'packs-template');
  await page.getByRole('button', { name: 'Thresholds and sections' }).click();
}, 180_000);

it('freezes a pack, shows it and finds it equal', async () => {
  await page.goto(`${visit.url}/packs?customer=${encodeURIComponent(CUSTOMER)}`);
  await settle(page);
  await page.getByText(/^\d+ things must be explained or mended$/).waitFor({ timeout: 60_000 });
  // From here to the file by the keyboard alone.
  await tabTo(page, /^Freeze the pack$/);
  await page.keyboard.press('Enter');
  await page.getByRole('link', { name: /^Evidence / }).first().waitFor({ timeout: 120_000 });
  await picture(page, 'packs-made');
  await tabTo(page, /^Evidence /);
  await page.keyboard.press('Enter');
  await page.getByText(/^SHA-256: [0-9a-f]{64}$/).waitFor();
  await tabTo(page, /^PDF$/);
  const [download] = await Promise.all([page.waitForEvent('download', { timeout: 120_000 }), page.keyboard.press('Enter')]);
  await download.saveAs('test/output/pack.pdf');
  expect(download.suggestedFilename()).toMatch(/^audit-pack-\d+\.pdf$/);
  await tabTo(page, /^Recompute and compare$/);
  await page.keyboard.press('Enter');
  await page.getByText('Equal to the last digit').waitFor({ timeout: 120_000 });
  await accessible(page, 'pack');
  await picture(page, 'pack');
}, 300_000);

it('gives the auditor of that customer the pack: opened, verified and downloaded, and no choice of others', async () => {
  const auditor = await installation.open({ width: 1024, height: 768 });
  auditor.page.on('pageerror', (error) => errors.push(error.message));
  const refused: string[] = [];
  auditor.page.on('response', (response) => { if (response.status() >= 400) refused.push(`${response.status()} ${response.url()}`); });
  await signIn(auditor, 'audit');
  await auditor.page.getByText(/^Auditor’s view: products of Skerrylight Fish Cannery, /).waitFor();
  await settle(auditor.page);
  await auditor.page.getByRole('link', { name: 'Audit packs', exact: true }).click();
  await auditor.page.getByRole('link', { name: /^Evidence / }).waitFor();
  await settle(auditor.page);
  expect(await auditor.page.getByRole('combobox').count()).toBe(0);
  await accessible(auditor.page, 'packs-auditor');
  await picture(auditor.page, 'packs-auditor');
  await auditor.page.getByRole('link', { name: /^Evidence / }).click();
  await auditor.page.getByText(/^SHA-256: [0-9a-f]{64}$/).waitFor();
  await auditor.page.getByRole('button', { name: 'Recompute and compare' }).click();
  await auditor.page.getByText('Equal to the last digit').waitFor({ timeout: 120_000 });
  await accessible(auditor.page, 'pack-auditor');
  await picture(auditor.page, 'pack-auditor');
  for (const name of ['PDF', 'Spreadsheet', 'All inputs and results (JSON)']) {
    const [file] = await Promise.all([auditor.page.waitForEvent('download', { timeout: 120_000 }), auditor.page.getByRole('link', { name, exact: true }).click()]);
    expect(await file.failure(), name).toBeNull();
  }
  expect(refused).toEqual([]);
  await auditor.close();
}, 300_000);

it('reads on a tablet in the dark', async () => {
  const tablet = await installation.open({ width: 1024, height: 768, dark: true });
  await signIn(tablet);
  await tablet.page.goto(`${visit.url}/packs`);
  await settle(tablet.page);
  await accessible(tablet.page, 'packs-tablet');
  await picture(tablet.page, 'packs-tablet');
  await tablet.close();
}, 120_000);

it('raised no error in the page on the way', () => { expect(errors).toEqual([]); });
