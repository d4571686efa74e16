import { expect, it } from 'vitest';
import { accessible, picture, settle, signIn, visitDemo } from './harness.js';

// An engineer makes a token for a gauge, and brings a file on a tablet.
const { installation, visit, errors } = await visitDemo();

it('shows tokens that are over, makes a token, and shows it once', async () => {
  const { page } = visit;
  await page.goto(`${visit.url}/set-up?section=feeds`);
  await page.getByText(/^revoked /).waitFor();
  await picture(page, 'feeds-over');
  await page.getByRole('button', { name: 'Make a token' }).click();
  const dialog = page.getByRole('dialog', { name: 'Make a token' });
  await dialog.getByLabel('Name').fill('Seam projector 2');
  await dialog.getByLabel('Expires').fill('2020-01-01T00:00');
  await dialog.getByRole('button', { name: 'Save' }).click();
  await dialog.getByText('a moment in the future').first().waitFor();
  await accessible(page, 'a refused token');
  await picture(page, 'feeds-refused');
  await dialog.getByLabel('Expires').fill('2199-01-01T00:00');
  await dialog.getByRole('button', { name: 'Save' }).click();
  await page.getByText('It is shown this once and not kept', { exact: false }).waitFor();
  const token = await page.locator('pre').textContent();
  expect(token).toMatch(/^feed_[\w-]{43}$/);
  await settle(page);
  await accessible(page, 'feeds');
  await picture(page, 'feeds-made');
  const sent = await page.request.post(`${visit.url}/api/checks`, { headers: { authorization: `Bearer ${token}` }, data: { key: 'projector-2 one', machine: 'BM11', product: 'A65', takenAt: new Date(Date.now() - 60_000).toISOString(), cans: [{ number: 1 }], positions: ['front', 'middle', 'back'], characteristics: [{ code: 'weld-overlap', readings: [0.41, 0.42, 0.43] }] } });
  expect(sent.status(), await sent.text()).toBe(201);
  const { checkId } = (await sent.json()) as { checkId: number };
  await page.getByRole('button', { name: 'I have it' }).click();
  await page.getByRole('button', { name: 'Revoke the token of Seam projector 2' }).click();
  await page.getByLabel('Reason').fill('sent back to its maker');
  await page.getByRole('dialog').getByRole('button', { name: 'Revoke', exact: true }).click();
  await page.getByText(/^revoked .* by Ilse Quintavale: sent back to its maker$/).waitFor();
  expect(await page.getByText(token ?? '', { exact: true }).count()).toBe(0);
  await picture(page, 'feeds-revoked');
  await page.goto(`${visit.url}/checks/${checkId}`);
  await page.getByText('sent by a gauge or a monitor').waitFor();
  await page.getByText(/by Seam projector 2 \(token \d+\)/).first().waitFor();
});

it('maps a file on a dark tablet without scrolling sideways, and words why rows are refused', async () => {
  const tablet = await installation.open({ width: 1024, height: 768, dark: true });
  tablet.page.on('pageerror', (error) => errors.push(error.message));
  await signIn(tablet);
  const { page } = tablet;
  await page.goto(`${tablet.url}/import`);
  const rows = ['Time,Machine,Product,Can,overlap front (mm),overlap middle (mm),overlap back (mm)', '2026-03-02T08:00Z,BM11,A65,1,0.41,0.42,4.3', '2026-03-02 08:61,BM11,A65,1,0.41,0.42,0.43', '2026-03-02T08:02Z,BM99,A65,1,0.41,0.42,0.43', '2026-03-02T08:03Z,BM11,A65,1,0.41,n/a,0.43'];
  await page.locator('input[type=file]').setInputFiles({ name: 'weld.csv', mimeType: 'text/csv', buffer: Buffer.from(`${rows.join('\n')}\n`) });
  await page.getByLabel('What column Machine holds').waitFor();
  await settle(page);
  await accessible(page, 'mapping on a dark tablet');
  const table = page.getByRole('table').first();
  await table.scrollIntoViewIfNeeded();
  await picture(page, 'import-mapping-tablet-dark');
  const box = await table.boundingBox();
  expect((box?.x ?? 0) + (box?.width ?? 9999)).toBeLessThanOrEqual(1024);
  expect(await page.evaluate<number>('document.documentElement.scrollWidth - document.documentElement.clientWidth')).toBeLessThanOrEqual(0);
  await page.getByRole('button', { name: 'Show what would happen' }).click();
  await page.getByRole('cell', { name: 'unknown machine “BM99”: the code or name of one in the set-up expected' }).first().waitFor();
  await page.getByRole('cell', { name: /Weld overlap: a number expected, decimal sign point \(1\.65\): not “n\/a”/ }).waitFor();
  await page.getByRole('cell', { name: /implausible: 0\.15 to 0\.85 mm expected: not 4\.3 mm/ }).waitFor();
  await accessible(page, 'preview on a dark tablet');
  await picture(page, 'import-preview-tablet-dark');
  await page.goto(`${tablet.url}/set-up?section=feeds`);
  await page.getByText('Seam projector 2').first().waitFor();
  await accessible(page, 'feeds on a dark tablet');
  await picture(page, 'feeds-tablet-dark');
  expect(await page.evaluate<number>('document.documentElement.scrollWidth - document.documentElement.clientWidth')).toBeLessThanOrEqual(0);
  await tablet.close();
});

it('raised no error in the page on the way', () => {
  expect(errors).toEqual([]);
});
