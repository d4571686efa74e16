import { expect, it } from 'vitest';
import { listCounters, recordCounterReadings } from '#contract/counters';
import { listIncidents } from '#contract/incidents';
import { listChecks } from '#contract/inspections';
import { getSession } from '#contract/users';
import { accessible, picture, signIn, visitDemo } from './harness.js';

// An engineer looks at counters, at what a check says of the trade, and at where on the body a can was.
const { installation, visit, page, errors } = await visitDemo();

const get = async (path: string): Promise<unknown> => (await page.request.get(`${visit.url}${path}`)).json();

it('shows what counters showed, leaves a gap open, and closes it when the roll-over is stated', async () => {
  await page.goto(`${visit.url}/set-up?section=counters`);
  await page.getByText('Nothing had to be decided', { exact: false }).waitFor();
  await accessible(page, 'counters without readings');
  await picture(page, 'counters-empty');
  const { counters } = listCounters.answer.parse(await get('/api/counts/counters'));
  const machine = counters.find(({ stepKind }) => stepKind === 'tester') ?? counters.at(-1);
  const { csrf } = getSession.answer.parse(await get('/api/session'));
  // Minutes that the demo plant has not counted: far before its records.
  const at = (minute: number) => new Date(Date.UTC(2020, 0, 6, 8, minute)).toISOString();
  const readings = [[0, 998_000], [5, 1_000], [10, 3_400], [15, -2]].map(([minute, good]) => ({ machineId: machine?.machineId, at: at(minute ?? 0), good, rejected: null }));
  const sent = await page.request.post(`${visit.url}/api/counts/readings`, { data: { readings }, headers: { 'x-csrf-token': csrf ?? '' } });
  expect(recordCounterReadings.answer.parse(await sent.json())).toMatchObject({ stored: 3, spans: { stored: 1 } });
  await page.reload();
  await page.getByText('from 998000 to 1000; it would be a roll-over', { exact: false }).waitFor();
  await page.getByText('not known, 1000 at least').waitFor();
  await page.getByRole('button', { name: `Change the counter of ${machine?.machine}` }).click();
  await page.getByLabel('Number of values').fill('900');
  await page.getByRole('button', { name: 'Save' }).click();
  await page.getByText('more than 998000, the highest number', { exact: false }).first().waitFor();
  await page.getByLabel('Number of values').fill('1000000');
  await page.getByRole('button', { name: 'Save' }).click();
  await page.getByText('999,999 cans').waitFor();
  await accessible(page, 'counters');
  await picture(page, 'counters');
});

it('says of a weld check which bodies are wedges, and of a teardown what it lacks', async () => {
  const { checks } = listChecks.answer.parse(await get('/api/checks?take=500'));
  const weld = checks.find(({ plan }) => plan?.includes('Weld'));
  await page.goto(`${visit.url}/checks/${weld?.id}`);
  await page.getByRole('heading', { name: 'Wedge of the weld overlap' }).scrollIntoViewIfNeeded();
  await accessible(page, 'check of a weld');
  await picture(page, 'check-taper');
  const teardown = checks.find(({ plan }) => plan?.includes('teardown') || plan?.includes('Teardown'));
  await page.goto(`${visit.url}/checks/${teardown?.id}`);
  await page.getByRole('heading', { name: 'What this teardown lacks' }).scrollIntoViewIfNeeded();
  await page.getByText('Juncture not examined: cover-hook droop', { exact: false }).waitFor();
  await accessible(page, 'check of a seam');
  await picture(page, 'check-teardown');
});

it('says where on the body a can of an incident was', async () => {
  const { rows } = listIncidents.answer.parse(await get('/api/incidents'));
  await page.goto(`${visit.url}/incidents/${rows.find(({ lane }) => lane === 'A')?.id}`);
  await page.getByText('Half A: can 1 of 2 of the body, counted from the leading end').scrollIntoViewIfNeeded();
  await page.getByText('front end of the weld in front, cut of the parter behind').waitFor();
  await picture(page, 'incident-genealogy');
});

it('asks which time is meant where the clocks showed it twice, and takes the half of a code for a time of one’s own', async () => {
  const { rows } = listIncidents.answer.parse(await get('/api/incidents'));
  const known = rows.find(({ canCode }) => / A$/.test(canCode));
  await page.goto(`${visit.url}/incidents/new`);
  await page.getByLabel('Cans made at').fill('2025-03-30T01:30');
  await page.getByText('skipped this time when they were put forward', { exact: false }).waitFor();
  await page.getByLabel('Cans made at').fill('2025-10-26T01:30');
  await page.getByLabel('The second time, an hour later on most clocks (01:30 UTC)').check();
  await page.getByLabel('Code on the can').fill(known?.canCode ?? '');
  await page.getByText('Overruled: the time below is your own.').waitFor();
  await expect.poll(() => page.getByLabel('Half', { exact: true }).inputValue()).toBe(String(known?.laneId));
  expect(await page.getByLabel('Cans made at').inputValue()).toBe('2025-10-26T01:30');
  await accessible(page, 'a time shown twice');
  await picture(page, 'incident-shown-twice');
});

it('puts two versions of a pattern side by side, and fits a tablet in the dark', async () => {
  await page.goto(`${visit.url}/set-up?section=codes`);
  await page.getByRole('button', { name: 'Add a pattern' }).click();
  await page.getByLabel('Line', { exact: true }).selectOption({ label: 'L3: Line 3' });
  await page.getByRole('textbox', { name: 'Pattern' }).fill('{year:2}{day-of-year}{hour}');
  await page.getByLabel('A code from a can').fill('2506014');
  await page.getByRole('textbox', { name: 'Why' }).fill('The new printer has one row');
  await page.getByLabel(/^It reads: L3, 1 Mar 2025/).check();
  await page.getByRole('button', { name: 'Save' }).click();
  await page.getByRole('heading', { name: 'Versions side by side' }).scrollIntoViewIfNeeded();
  await page.getByText('The new printer has one row').waitFor();
  await accessible(page, 'versions of a pattern');
  await picture(page, 'can-code-versions');
  const tablet = await installation.open({ width: 1024, height: 768, dark: true });
  await signIn(tablet);
  await tablet.page.goto(`${tablet.url}/set-up?section=counters`);
  await tablet.page.getByText('999,999 cans').first().waitFor();
  await accessible(tablet.page, 'counters on a tablet');
  expect(await tablet.page.evaluate<boolean>('document.documentElement.scrollWidth <= window.innerWidth')).toBe(true);
  await picture(tablet.page, 'counters-tablet-dark');
  await tablet.close();
  expect(errors).toEqual([]);
});
