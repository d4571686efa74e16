import { expect, it } from 'vitest';
import { listDueChecks } from '#contract/due-checks';
import { getPlant } from '#contract/plant';
import { accessible, picture, settle, visitDemo } from './harness.js';

// From what is due to its grid, and from a verdict to what the plant wrote to do; labels that open the grid of a machine.
const { visit, page, errors } = await visitDemo();

const get = async (path: string): Promise<unknown> => (await page.request.get(`${visit.url}${path}`)).json();

it('lists a check that an event opened, with its cause and source, and leads to its grid', async () => {
  const plant = getPlant.answer.parse(await get('/api/plant'));
  const welder = plant.checkPlans.find(({ openedBy }) => openedBy.includes('coil-change'));
  const line = plant.lines.find(({ steps }) => steps.some(({ machines }) => machines.some(({ id }) => id === welder?.machineId)));
  const session = await get('/api/session') as { csrf: string };
  const made = await page.request.post(`${visit.url}/api/line-events`, { headers: { 'x-csrf-token': session.csrf }, data: { lineId: line?.id, machineId: welder?.machineId, kind: 'coil-change', at: new Date(Date.now() - 1000).toISOString(), text: 'coil 4711' } });
  expect(made.status()).toBe(201);
  await page.goto(`${visit.url}/log`);
  await page.getByRole('heading', { name: 'Checks due' }).waitFor();
  const { due } = listDueChecks.answer.parse(await get('/api/due-checks'));
  const opened = due.find(({ planId }) => planId === welder?.id);
  expect(opened?.cause?.text).toBe('coil 4711');
  const showAll = page.getByRole('button', { name: /^Show all/ });
  if (await showAll.count() > 0) await showAll.click();
  await page.getByText('coil change (coil 4711)', { exact: false }).first().waitFor();
  await settle(page);
  await accessible(page, 'due checks');
  await picture(page, 'due-checks');
  await page.getByRole('link', { name: `Log it: ${opened?.plan}` }).click();
  await page.waitForURL(`**/log?machine=${opened?.machineId}&plan=${opened?.planId}`);
  // The address changes a moment before the page does.
  await expect.poll(() => page.getByLabel('Machine', { exact: true }).inputValue()).toBe(String(opened?.machineId));
  // Whoever followed it stands at the first cell, on the screen, and the list has made room.
  await page.locator('.cell-input:focus').waitFor();
  expect((await page.locator(':focus').boundingBox())?.y).toBeLessThan(700);
  await page.getByText(/^\d+ checks? (is|are) due\.$/).waitFor();
  await picture(page, 'due-checks-folded');
  await page.getByRole('button', { name: 'Show them' }).click();
});

it('takes a skip only with a reason, and the check is due no more', async () => {
  const before = listDueChecks.answer.parse(await get('/api/due-checks')).due;
  const first = before[0];
  await page.getByRole('button', { name: `Skip: ${first?.plan}` }).click();
  await page.getByRole('dialog').getByLabel('Reason').fill('The coil is being changed once more.');
  await page.getByRole('dialog').getByRole('button', { name: 'Skip this check' }).click();
  await page.getByRole('dialog').waitFor({ state: 'detached' });
  expect(listDueChecks.answer.parse(await get('/api/due-checks')).due.map(({ planId }) => planId)).toEqual(before.slice(1).map(({ planId }) => planId));
});

it('says on the page of a signalling check what the plant wrote to do, and when the next check is due', async () => {
  const { checks } = await get('/api/checks?take=500') as { checks: { id: number; status: string }[] };
  const signalling = checks.filter(({ status }) => status === 'signal').slice(0, 40);
  let shown: number | null = null;
  for (const { id } of signalling) {
    const { reactions } = await get(`/api/checks/${id}/verdict`) as { reactions: unknown[] };
    if (reactions.length > 0) { shown = id; break; }
  }
  expect(shown).not.toBeNull();
  await page.goto(`${visit.url}/checks/${shown}`);
  await page.getByText(/^Not in control:/).waitFor();
  await page.getByText('Tell the shift lead; whether cans are held is decided by the plant’s process authority').first().waitFor();
  await page.getByText('Next check of this plan').waitFor();
  await settle(page);
  await accessible(page, 'verdict with reaction plan');
  await picture(page, 'floor-verdict');
});

it('shows the versions of reaction plans in Set-up', async () => {
  await page.goto(`${visit.url}/set-up?section=reactions`);
  await page.getByRole('rowheader', { name: 'Body hook at Seamer' }).waitFor();
  await accessible(page, 'reaction plans');
  await picture(page, 'reaction-plans');
});

it('prints a label for each machine whose code leads to its grid', async () => {
  await page.goto(`${visit.url}/labels`);
  const codes = page.getByRole('img', { name: /^QR code that opens the entry grid of/ });
  await codes.first().waitFor();
  const plant = getPlant.answer.parse(await get('/api/plant'));
  expect(await codes.count()).toBe(plant.lines.flatMap(({ steps }) => steps.flatMap(({ machines }) => machines)).filter(({ retired }) => !retired).length);
  const address = await codes.first().getAttribute('data-address');
  expect(address).toMatch(new RegExp(`^${visit.url}/log\\?machine=\\d+$`));
  await accessible(page, 'labels');
  await picture(page, 'labels');
  expect(errors).toEqual([]);
});
