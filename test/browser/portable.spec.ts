import { readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { expect, it } from 'vitest';
import { accessible, picture, settle, signIn, visitDemo } from './harness.js';

// A proposed specification with its effect, approved by a second person; the set-up out and in as a file, on the demo plant.
const { installation, visit, page, errors } = await visitDemo();

it('shows what a proposed revision would have done, and approves it with the password of a second person', async () => {
  await page.goto(`${visit.url}/set-up?section=specifications`);
  await settle(page);
  await picture(page, 'approvals');
  await accessible(page, 'approvals');
  await page.getByRole('button', { name: /^Look at Weld overlap of .*, revision 2, and decide$/ }).click();
  await page.getByText('What it would have said about the last 90 days').waitFor();
  await page.getByRole('columnheader', { name: 'Below the lower limit, in force → proposed' }).waitFor();
  expect(await page.getByRole('cell', { name: /^\d+\.\d\d → \d+\.\d\d$/ }).count()).toBeGreaterThan(1);
  await accessible(page, 'approval');
  await picture(page, 'approval');
  await page.getByLabel('Your password, to approve').fill('not my password');
  await page.getByRole('button', { name: 'Approve and sign' }).click();
  await page.getByText('The present password is another one.').waitFor();
  await page.getByLabel('Your password, to approve').fill('seamledger-demo');
  await page.getByLabel('What you say about it').fill('compared with the drawing');
  await page.getByRole('button', { name: 'Approve and sign' }).press('Enter');
  await page.getByText('Nothing waits for approval.').waitFor();
  await page.getByText('All revisions', { exact: true }).click();
  await page.getByRole('heading', { name: 'Two versions side by side' }).waitFor();
  await page.getByRole('row', { name: /^Lower limit .* changed$/ }).waitFor();
  await picture(page, 'revisions-compared');
}, 120_000);

it('takes the set-up out as a file, shows what a changed one would do, names what is wrong, and imports it', async () => {
  await page.goto(`${visit.url}/set-up?section=portable`);
  await settle(page);
  await accessible(page, 'export-import');
  const downloading = page.waitForEvent('download');
  await page.getByRole('link', { name: 'Download the set-up' }).click();
  const file = await (await downloading).path();
  const setUp: { products: { code: string; height: number }[] } = JSON.parse(readFileSync(file, 'utf8'));
  const bring = async (name: string, content: string) => {
    const changed = path.join(tmpdir(), `seamledger-${process.pid}-${name}`);
    writeFileSync(changed, content);
    await page.locator('input[type=file]').setInputFiles(changed);
    await page.getByLabel('Why').fill('as the sister plant');
    await page.getByRole('button', { name: 'Show what it would do' }).click();
  };
  await bring('broken.json', '{ "format": 1');
  await page.getByText(/^This file is not JSON/).waitFor();
  const [first] = setUp.products;
  await bring('wrong.json', JSON.stringify({ ...setUp, products: [{ ...first, height: -4 }] }));
  await page.getByText(/setUp\.products\.0\.height/).waitFor();
  await picture(page, 'set-up-file-refused');
  await bring('same.json', JSON.stringify(setUp));
  await page.getByText('The plant is set up like the file already: nothing would change.').waitFor();
  await bring('changed.json', JSON.stringify({ ...setUp, products: [{ ...first, height: (first?.height ?? 0) + 1 }] }));
  await page.getByText('1 row would be made or changed').waitFor();
  await picture(page, 'set-up-file');
  await page.getByRole('button', { name: 'Import', exact: true }).press('Enter');
  await page.getByText('Imported: 1 row made or changed').waitFor();
}, 120_000);

it('fits a tablet in the dark, for somebody who only reads', async () => {
  const tablet = await installation.open({ width: 1024, height: 768, dark: true });
  await signIn(tablet, 'audit');
  await tablet.page.goto(`${visit.url}/set-up?section=portable`);
  await settle(tablet.page);
  await accessible(tablet.page, 'export-import-tablet');
  await picture(tablet.page, 'export-import-tablet');
  await tablet.close();
}, 120_000);

it('raised no error in the page on the way', () => { expect(errors).toEqual([]); });
