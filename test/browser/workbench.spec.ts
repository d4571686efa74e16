import { readFileSync } from 'node:fs';
import { strToU8, zipSync } from 'fflate';
import { afterAll, expect, it } from 'vitest';
import { accessible, keepPictures, picture, settle, signIn, visitDemo } from './harness.js';

// One person's numbers, walked through from pasting to sharing and saving: each test goes on where the last one ended.
const { installation, visit, page, errors } = await visitDemo({ login: null });
let shared = '';

/** Hook lengths in mm, our own invention: 20 subgroups of five, the last five of them 0.03 longer. Decimal commas. */
const column = Array.from({ length: 100 }, (_none, index) => (1.95 + (index >= 75 ? 0.03 : 0) + 0.002 * ((index * 37) % 11) - 0.01).toFixed(3).replace('.', ',')).join('\n');
const results = (title: string) => page.locator('section').filter({ has: page.getByRole('heading', { level: 2, name: title, exact: true }) });
const drawn = async () => { await page.locator('[data-plot=drawn]').first().waitFor(); await settle(page); };

it('is open to anyone, with the way in and nothing of the plant', async () => {
  await page.goto(`${visit.url}/workbench`);
  await page.getByRole('heading', { level: 1, name: 'Workbench' }).waitFor();
  await page.getByRole('link', { name: 'Sign in' }).waitFor();
  expect(await page.getByRole('navigation').count()).toBe(0);
  await accessible(page, 'workbench, empty');
});

it('takes a pasted column with decimal commas, forms subgroups, and says in words what the chart shows', async () => {
  await page.getByLabel('Paste a column or a table').fill(column);
  await page.getByText('100 rows, 1 column').waitFor();
  await page.getByText('100 readings, 0 missing, 100 points').waitFor();
  await page.getByLabel('Readings in a subgroup').fill('5');
  await page.getByText('100 readings, 0 missing, 20 points').waitFor();
  await page.getByLabel('Limits from the first so many points').fill('15');
  await page.getByLabel('Unit of measure').fill('mm');
  await page.getByText(/\d+ points in a row above the upper limit 1\.9\d+ mm|is above the upper limit 1\.9\d+ mm/).first().waitFor();
  await page.getByText(/By chance alone these rules signal once in 91\.8 points/).waitFor();
  await drawn();
  await results('Signals').getByText(/signals on 5 of 20 points/).waitFor();
});

it('puts stability before capability, with intervals, and counts what is outside', async () => {
  await page.getByLabel('Lower limit').fill('1,90');
  await page.getByLabel('Upper limit').fill('2.00');
  const capability = results('Capability');
  await capability.getByText('Not stable: for information only').waitFor();
  await capability.getByRole('row', { name: /^Ppk/ }).getByText(/^-?\d\.\d\d to \d\.\d\d/).waitFor();
  await capability.getByText(/Counted outside: 0 of 100 readings/).waitFor();
  await page.getByRole('heading', { name: 'Histogram' }).waitFor();
  await drawn();
  await page.getByRole('heading', { name: 'Fitted distributions' }).waitFor();
  await accessible(page, 'workbench');
  await picture(page, 'workbench-entry');
  // The bar at the top covers what lies under it.
  const top = await page.getByRole('heading', { level: 2, name: 'Mean and range' }).boundingBox();
  await page.mouse.wheel(0, (top?.y ?? 0) - 80);
  await picture(page, 'workbench');
});

it('says where the variation comes from, which chart suits and whether points remember; another chart can be taken', async () => {
  const nature = results('Where the variation comes from');
  await nature.getByRole('row', { name: /^between subgroup: 20 groups 0\.0\d+ mm \d+\.\d % .* p < 0\.001$/ }).waitFor();
  await nature.getByText(/Chart that suits: Mean, moving range of means, spread within\. \d+ % of the variance lies between subgroups/).waitFor();
  await nature.getByText('Points come too often to be independent').waitFor();
  await nature.getByRole('button', { name: 'Take this chart' }).click();
  await page.getByRole('heading', { level: 2, name: 'Mean, moving range of means, spread within' }).waitFor();
  await drawn();
  await page.getByLabel('Chart', { exact: true }).selectOption('xbar-r');
  await page.getByRole('heading', { level: 2, name: 'Mean and range' }).waitFor();
  await results('Signals').getByText(/signals on 5 of 20 points/).waitFor();
});

it('reads the chart point by point with the keyboard', async () => {
  await page.getByRole('button', { name: 'Next signal' }).focus();
  await page.keyboard.press('PageDown');
  await page.getByText(/^Point 16\. Mean 1\.97\d+ mm, limits .* signal: one point beyond the limits/).waitFor();
  await page.keyboard.press('ArrowLeft');
  await page.getByText(/^Point 15\. Mean 1\.9\d+ mm/).waitFor();
});

it('takes the numbers along: points with limits and signals, and an address that restores everything in a fresh page', async () => {
  const [download] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: 'Download the points (CSV)' }).click()]);
  const rows = readFileSync(await download.path(), 'utf8').trim().split('\r\n');
  expect(rows).toHaveLength(1 + 2 * 20);
  expect(rows[16]).toMatch(/^16,,Mean,1\.97\d*,.*beyond-limits above/);
  await page.getByRole('button', { name: 'Make an address that holds the data' }).click();
  shared = await page.getByLabel('Address', { exact: true }).inputValue();
  expect(shared).toMatch(/\/workbench#data=[\w-]+$/);
  const fresh = await installation.open();
  await fresh.page.goto(shared);
  await fresh.page.getByText('Data and choices come from the address.').waitFor();
  expect(await fresh.page.getByLabel('Paste a column or a table').inputValue()).toBe(column);
  expect(await fresh.page.getByLabel('Lower limit').inputValue()).toBe('1,90');
  await fresh.page.getByText(/signals on 5 of 20 points/).waitFor();
  await fresh.page.goto('about:blank');
  await fresh.page.goto(`${shared.slice(0, -20)}`);
  await fresh.page.getByText('The address holds no data that can be read.').waitFor();
  await fresh.close();
});

it('keeps what the address holds through signing in, and is one of the screens then', async () => {
  const guest = await installation.open();
  await guest.page.goto(shared);
  await guest.page.getByText('Data and choices come from the address.').waitFor();
  await guest.page.getByRole('link', { name: 'Sign in' }).click();
  await guest.page.getByLabel('Login name').fill('voss');
  await guest.page.locator('input[type=password]').fill('seamledger-demo');
  await guest.page.getByRole('button', { name: 'Sign in' }).click();
  await guest.page.getByRole('link', { name: 'Workbench' }).waitFor();
  await guest.page.getByText('Data and choices come from the address.').waitFor();
  expect(await guest.page.getByLabel('Paste a column or a table').inputValue()).toBe(column);
  // A manager reads studies; saving is for those who record.
  await guest.page.getByText('No study has been saved yet.').waitFor();
  await guest.page.getByText(/signals on 5 of 20 points/).waitFor();
  expect(await guest.page.getByRole('button', { name: 'Save the study' }).count()).toBe(0);
  await guest.close();
});

it('saves a study, and opens it again from an empty screen', async () => {
  const engineer = await installation.open();
  await signIn(engineer);
  await engineer.page.goto(shared);
  await engineer.page.getByText(/signals on 5 of 20 points/).waitFor();
  await engineer.page.getByRole('button', { name: 'Save the study' }).click();
  await engineer.page.getByText('A title is expected.').waitFor();
  await engineer.page.getByLabel('Title').fill('Hook length after the wire change');
  await engineer.page.getByRole('button', { name: 'Save the study' }).click();
  await engineer.page.getByText(/^Saved as study \d+\.$/).waitFor();
  await engineer.page.goto(`${engineer.url}/workbench`);
  await engineer.page.getByRole('button', { name: 'Open Hook length after the wire change' }).click();
  await engineer.page.getByText(/^Study “Hook length after the wire change”, saved by .* \(program version .*\)/).waitFor();
  expect(await engineer.page.getByLabel('Paste a column or a table').inputValue()).toBe(column);
  await engineer.page.getByText(/signals on 5 of 20 points/).waitFor();
  const [download] = await Promise.all([engineer.page.waitForEvent('download'), engineer.page.getByRole('button', { name: 'Download the answers as they were saved (JSON)' }).click()]);
  const kept = JSON.parse(readFileSync(await download.path(), 'utf8')) as { answers: { method: string }[] };
  expect(kept.answers.map(({ method }) => method)).toEqual(expect.arrayContaining(['chart', 'variance-components', 'capability']));
  await accessible(engineer.page, 'workbench with a study');
  await engineer.close();
});

it('parts readings by the columns that name their levels', async () => {
  const rows = ['head;can;seam', ...Array.from({ length: 24 }, (_none, row) => `H${Math.floor(row / 12) + 1};${Math.floor(row / 3) % 4 + 1};${(1.2 + Math.floor(row / 12) * 0.05 + ((row * 7) % 5) * 0.002).toFixed(3)}`)].join('\n');
  await page.getByLabel('Paste a column or a table').fill(rows);
  await page.getByText('24 rows, 3 columns').waitFor();
  await page.getByLabel('How the table is read').selectOption('column');
  await page.getByLabel('Column of readings').selectOption({ label: 'seam' });
  await page.getByRole('combobox', { name: 'Columns that name the levels' }).click();
  await page.getByRole('listbox').getByRole('option', { name: 'head' }).click();
  await page.getByRole('listbox').getByRole('option', { name: 'can' }).click();
  await page.keyboard.press('Escape');
  await results('Where the variation comes from').getByRole('row', { name: /^between head: 2 groups/ }).waitFor();
  await results('Where the variation comes from').getByRole('row', { name: /^between can: 8 groups/ }).waitFor();
  await page.getByRole('button', { name: 'Clear the data' }).click();
});

it('names row and column of a cell that is no number, and loses nothing', async () => {
  const table = ['check;a;b', ...Array.from({ length: 9 }, (_none, row) => `K${row + 1};1.2${row};${row === 5 ? 'torn' : '1.25'}`)].join('\n');
  await page.getByLabel('Paste a column or a table').fill(table);
  await page.getByText('Row 7, column b: a number is expected, “torn” was given.').waitFor();
  expect(await page.getByLabel('Paste a column or a table').inputValue()).toBe(table);
  await accessible(page, 'workbench with a refused cell');
  await page.getByLabel('Take cells that are no number as missing readings').check();
  await page.getByText('17 readings, 1 missing, 9 points').waitFor();
});

/** A spreadsheet file of one sheet with two columns of numbers. */
function spreadsheet(rows: number): Buffer {
  const part = (text: string) => strToU8(`<?xml version="1.0" encoding="UTF-8"?>${text}`);
  const [main, links, office] = ['http://schemas.openxmlformats.org/spreadsheetml/2006/main', 'http://schemas.openxmlformats.org/package/2006/relationships', 'http://schemas.openxmlformats.org/officeDocument/2006/relationships'];
  const cells = Array.from({ length: rows }, (_none, row) => `<row r="${row + 1}"><c r="A${row + 1}"><v>${1.9 + ((row * 7) % 13) / 1000}</v></c><c r="B${row + 1}"><v>${1.9 + ((row * 5) % 11) / 1000}</v></c></row>`).join('');
  return Buffer.from(zipSync({
    '[Content_Types].xml': part('<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="xml" ContentType="application/xml"/></Types>'),
    '_rels/.rels': part(`<Relationships xmlns="${links}"><Relationship Id="r1" Type="${office}/officeDocument" Target="xl/workbook.xml"/></Relationships>`),
    'xl/workbook.xml': part(`<workbook xmlns="${main}" xmlns:r="${office}"><sheets><sheet name="Hooks" sheetId="1" r:id="r1"/></sheets></workbook>`),
    'xl/_rels/workbook.xml.rels': part(`<Relationships xmlns="${links}"><Relationship Id="r1" Type="${office}/worksheet" Target="worksheets/sheet1.xml"/></Relationships>`),
    'xl/worksheets/sheet1.xml': part(`<worksheet xmlns="${main}"><sheetData>${cells}</sheetData></worksheet>`),
  }));
}

it('opens a spreadsheet file too large for the reader to unpack by itself under the page’s policy, and keeps what was there when a file is none', async () => {
  const file = spreadsheet(20_000);
  await page.locator('input[type=file]').setInputFiles({ name: 'hooks.xlsx', mimeType: 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet', buffer: file });
  await page.getByText('20,000 rows, 2 columns').waitFor();
  await page.getByText('40,000 readings, 0 missing, 20,000 points').waitFor();
  await page.locator('input[type=file]').setInputFiles({ name: 'broken.xlsx', mimeType: 'application/octet-stream', buffer: file.subarray(0, 300) });
  await page.getByText(/This is no spreadsheet file that can be opened.*What was there before is still there/).waitFor();
  await page.getByText('20,000 rows, 2 columns').waitFor();
});

it('counts defective units, and fits a dark tablet without a violation or sideways scrolling', async () => {
  const tablet = await installation.open({ width: 1024, height: 768, dark: true });
  await tablet.page.goto(`${tablet.url}/workbench`);
  await tablet.page.getByRole('button', { name: 'Try an example' }).click();
  await tablet.page.locator('[data-plot=drawn]').nth(2).waitFor();
  await settle(tablet.page);
  await accessible(tablet.page, 'workbench on a dark tablet');
  await picture(tablet.page, 'tablet-dark-workbench');
  expect(await tablet.page.evaluate<number>('document.documentElement.scrollWidth - document.documentElement.clientWidth'), 'the page itself does not scroll sideways').toBeLessThanOrEqual(0);
  await tablet.page.getByRole('button', { name: 'Clear the data' }).click();
  await tablet.page.getByLabel('Paste a column or a table').fill('3\n2\n4\n1\n3\n19\n2\n3\n2\n4');
  await tablet.page.getByText('10 rows, 1 column').waitFor();
  await tablet.page.getByLabel('How the table is read').selectOption('counts');
  await tablet.page.getByText('State how many units were looked at').waitFor();
  await tablet.page.getByLabel('Size of each sample').selectOption('same');
  await tablet.page.getByLabel('Units in a sample').fill('200');
  await tablet.page.getByText(/0\.0950 is above the upper limit 0\.\d+/).first().waitFor();
  await tablet.close();
});

afterAll(() => keepPictures(['workbench']));

it('raised no error in the page on the way', () => {
  expect(errors).toEqual([]);
});
