import { expect, it } from 'vitest';
import { listIncidents } from '#contract/incidents';
import { recordCheck } from '#contract/inspections';
import { getPlant } from '#contract/plant';
import { getSession } from '#contract/users';
import { accessible, picture, signIn, visitDemo } from './harness.js';

// An engineer keeps what the plant proved and learned: tested weld windows, where defects begin, words of its own.
const { installation, visit, page, errors } = await visitDemo();

const get = async (path: string): Promise<unknown> => (await page.request.get(`${visit.url}${path}`)).json();

it('shows what window tests proved, version by version, and refuses limits the wrong way round without losing what was typed', async () => {
  await page.goto(`${visit.url}/set-up?section=weldWindows`);
  await page.getByRole('cell', { name: '3160 to 3470 A' }).waitFor();
  await accessible(page, 'weld windows');
  await picture(page, 'weld-windows');
  await page.getByRole('button', { name: 'Versions of Welding current, Body maker BM11, A65' }).click();
  await page.getByRole('cell', { name: '3150 A', exact: true }).waitFor();
  await page.getByText('Repeated after the cold welds of coil 7716').waitFor();
  await picture(page, 'weld-window-versions');
  await page.keyboard.press('Escape');
  await page.getByRole('button', { name: 'New version of Welding current, Body maker BM12, A65' }).click();
  await page.getByLabel('Lower limit (A)').fill('3500');
  await page.getByLabel('Tested at').fill('2025-03-03T08:00');
  await page.getByLabel('Tested by').fill('Femi Okorandu');
  await page.getByLabel('What the test showed').fill('Ten bodies torn whole at 3280 A');
  await page.getByLabel('Holds from').fill('2025-03-03T09:00');
  await page.getByLabel('Why this version').fill('Cold edge rose with the new wire');
  await page.getByRole('button', { name: 'Save the version' }).click();
  await page.getByText('above the lower limit, 3500 A').first().waitFor();
  await accessible(page, 'weld window refused');
  await picture(page, 'weld-window-refused');
  await page.getByLabel('Lower limit (A)').fill('3280');
  await page.getByRole('button', { name: 'Save the version' }).click();
  await page.getByRole('cell', { name: '3280 to 3480 A' }).waitFor();
});

it('says at a check of the current how much is left to the edge, and lists it with a trace', async () => {
  const plant = getPlant.answer.parse(await get('/api/plant'));
  const machine = plant.lines.flatMap(({ steps }) => steps.flatMap(({ machines }) => machines)).find(({ code }) => code === 'BM12');
  const product = plant.products.find(({ code }) => code === 'A65');
  const { csrf } = getSession.answer.parse(await get('/api/session'));
  const sent = await page.request.post(`${visit.url}/api/checks`, { headers: { 'x-csrf-token': csrf ?? '' }, data: {
    key: 'near-the-edge-1', machineId: machine?.id, productId: product?.id, takenAt: new Date().toISOString(), cans: [{ number: 1 }], positions: ['display'], characteristics: [{ code: 'weld-current', readings: [3310] }],
  } });
  const { checkId } = recordCheck.answer.parse(await sent.json());
  await page.goto(`${visit.url}/checks/${checkId}`);
  await page.getByText('Welding current 3310 A: 15 % of the window 3280 to 3480 A', { exact: false }).scrollIntoViewIfNeeded();
  await page.getByText('Near the lower edge: 30 A left before the cold edge.').waitFor();
  await accessible(page, 'check of the welding current');
  await picture(page, 'check-weld-window');
  const { rows } = listIncidents.answer.parse(await get('/api/incidents'));
  const cold = rows.find(({ lane, defect }) => lane === 'A' && /weld|leak/.test(defect)) ?? rows.find(({ lane }) => lane === 'A');
  await page.goto(`${visit.url}/incidents/${cold?.id}/trace`);
  await page.getByRole('heading', { name: 'Welding current while these cans were welded' }).scrollIntoViewIfNeeded();
  await page.getByText('those of the trade (common practice, no source)', { exact: false }).waitFor();
  await accessible(page, 'trace with welding current');
  await picture(page, 'trace-weld-window');
});

it('writes where a defect begins in this plant, and puts the versions side by side', async () => {
  await page.goto(`${visit.url}/set-up?section=weights`);
  await page.getByText('No defect has weights of this plant yet.').waitFor();
  await page.getByRole('combobox', { name: 'Defect' }).selectOption('flange-crack');
  await page.getByRole('button', { name: 'Write a new version' }).click();
  await page.getByLabel('Share in % 1').fill('30');
  await page.getByLabel('Why').fill('Causes of the last thirty incidents');
  await page.getByRole('button', { name: 'Save the version' }).click();
  await page.getByText(/shares that add up to 1/).first().waitFor();
  await accessible(page, 'weights refused');
  await picture(page, 'weights-refused');
  await page.getByLabel('Share in % 2').fill('45');
  await page.getByRole('button', { name: 'Save the version' }).click();
  await page.getByText('Version 1 of the plant holds', { exact: false }).waitFor();
  await page.getByRole('button', { name: 'Write a new version' }).click();
  await page.getByLabel('Why').fill('The trade knows better');
  await page.getByRole('button', { name: 'Go back to the trade' }).click();
  await page.getByRole('heading', { name: 'Versions side by side' }).waitFor();
  await accessible(page, 'weights');
  await picture(page, 'weights');
});

it('drafts the answer to a customer in German from the same facts, and keeps what was typed in the other language', async () => {
  await page.goto(`${visit.url}/incidents/5/reply`);
  const text = page.getByLabel('Text of the answer');
  await text.fill(`${await text.inputValue()}\nP.S. by telephone`);
  await page.getByLabel('Language of the letter').selectOption('de');
  await page.getByRole('note').getByText('gibt keine Ware frei', { exact: false }).waitFor();
  await accessible(page, 'reply in German');
  await picture(page, 'reply-german');
  await page.getByLabel('Language of the letter').selectOption('en');
  await page.getByRole('note').getByText('releases no product', { exact: false }).waitFor();
  expect(await text.inputValue()).toContain('P.S. by telephone');
});

it('fits a tablet in the dark', async () => {
  const tablet = await installation.open({ width: 1024, height: 768, dark: true });
  await signIn(tablet);
  for (const [name, text] of [['weldWindows', 'Weld windows'], ['weights', 'Defect weights'], ['synonyms', 'Synonyms']] as const) {
    await tablet.page.goto(`${tablet.url}/set-up?section=${name}`);
    await tablet.page.getByRole('tab', { name: text, selected: true }).waitFor();
    await accessible(tablet.page, `${name} on a tablet`);
    expect(await tablet.page.evaluate<boolean>('document.documentElement.scrollWidth <= window.innerWidth')).toBe(true);
    await picture(tablet.page, `${name}-tablet-dark`);
  }
  await tablet.close();
  expect(errors).toEqual([]);
});
