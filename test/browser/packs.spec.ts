import { expect, it } from 'vitest';
import { accessible, picture, settle, signIn, visitDemo } from './harness.js';

// From what would fail the audit to the frozen pack, its files, its verification and its review by a second person, on the demo plant.
const { installation, visit, page, errors } = await visitDemo();

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
  await page.getByRole('button', { name: 'Freeze the pack' }).click();
  await page.getByRole('link', { name: /^Evidence / }).first().waitFor({ timeout: 120_000 });
  await picture(page, 'packs-made');
  await page.getByRole('link', { name: /^Evidence / }).first().click();
  await page.getByText(/^SHA-256: [0-9a-f]{64}$/).waitFor();
  await page.getByRole('button', { name: 'Recompute and compare' }).click();
  await page.getByText('Equal to the last digit').waitFor({ timeout: 120_000 });
  await accessible(page, 'pack');
  await picture(page, 'pack');
  const [download] = await Promise.all([page.waitForEvent('download', { timeout: 120_000 }), page.getByRole('link', { name: 'PDF' }).click()]);
  await download.saveAs('test/output/pack.pdf');
  expect(download.suggestedFilename()).toMatch(/^audit-pack-\d+\.pdf$/);
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
