import { expect, it } from 'vitest';
import { accessible, picture, settle, signIn, visitDemo } from './harness.js';

// An engineer looks for what fixed it the last time, and teaches the search a word of the plant.
const { installation, visit, page, errors } = await visitDemo({ login: null });

const search = async (text: string) => {
  await page.getByLabel('What do you see?').fill(text);
  await page.waitForURL((url) => url.searchParams.get('q') === text);
  await settle(page);
};
const card = (title: RegExp) => page.getByRole('listitem').filter({ has: page.getByRole('heading', { name: title }) });

it('asks which meaning of a word is meant, takes the answer into the address, and lets it be asked again', async () => {
  await signIn(visit);
  await page.goto(`${visit.url}/past-fixes`);
  await search('overlap');
  const question = page.getByRole('group', { name: '“overlap” has two meanings on a can line' });
  await question.waitFor();
  await accessible(page, 'past-fixes-asks');
  await picture(page, 'past-fixes-asks');
  await question.getByRole('button', { name: /^weld overlap:/ }).click();
  await page.getByText('“overlap” is taken as weld overlap.').waitFor();
  expect(new URL(page.url()).searchParams.get('meaning')).toBe('weld overlap');
  await card(/^Weld overlap swings with a period/).getByText(/“Weld overlap”.* means? the same as “overlap”/).waitFor();
  await page.getByRole('button', { name: 'Ask again what “overlap” means' }).click();
  await question.waitFor();
  expect(new URL(page.url()).searchParams.get('meaning')).toBeNull();
});

it('says of each hit what it is, why it matched, whether it helped, and narrows by filters', async () => {
  await search('cros-over leak');
  const hit = card(/Leaks at the juncture while every measurement/).first();
  await hit.getByText(/“juncture”.* means? the same as “cros-over” in/i).first().waitFor();
  await hit.getByText('Root-cause note').waitFor();
  await hit.getByText(/Helped in \d+ closed incident/).waitFor();
  await page.getByLabel('Kind').selectOption('incident');
  await page.waitForURL(/kind=incident/);
  await settle(page);
  await page.getByText('Incident', { exact: true }).first().waitFor();
  expect(await page.getByText('Root-cause note', { exact: true }).count()).toBe(0);
  await page.getByRole('button', { name: 'Clear the filters' }).click();
  await page.getByLabel('Verified effect').selectOption('true');
  await settle(page);
  await accessible(page, 'past-fixes-filters');
  await picture(page, 'past-fixes-filters');
});

it('learns a word of the plant in Set-up, refuses one that belongs elsewhere, and finds by it', async () => {
  await page.getByRole('link', { name: 'Words that mean the same' }).click();
  await page.getByRole('heading', { name: 'Words of this plant' }).waitFor();
  await page.getByText('pile-up, smash').waitFor();
  await page.getByRole('button', { name: 'Add synonyms' }).click();
  await page.getByLabel('Preferred word').fill('countersink');
  const others = page.getByRole('dialog').getByLabel('Words that mean the same');
  await others.fill('wrinkle');
  await others.press('Enter');
  await page.getByRole('dialog').getByLabel('Reason').fill('said so at the line');
  await page.getByRole('button', { name: 'Save' }).click();
  await page.getByText(/“wrinkle” may be tightness or wrinkle number/).first().waitFor();
  await accessible(page, 'synonym-refused');
  await picture(page, 'synonym-refused');
  await others.press('Backspace');
  await others.fill('the well');
  await others.press('Enter');
  await page.getByRole('button', { name: 'Save' }).click();
  await page.getByRole('cell', { name: 'the well', exact: true }).waitFor();
  await settle(page);
  await accessible(page, 'synonyms');
  await picture(page, 'synonyms');
  await page.goto(`${visit.url}/past-fixes`);
  await search('the well');
  await card(/^Deep countersink on one head/).getByText(/“countersink”.* means? the same as “the well”/i).first().waitFor();
});

it('does the same on a dark tablet without scrolling sideways', async () => {
  const tablet = await installation.open({ width: 1024, height: 768, dark: true });
  await signIn(tablet);
  for (const [name, address] of [['past-fixes', '/past-fixes?q=wrinkle'], ['synonyms', '/set-up?section=synonyms']] as const) {
    await tablet.page.goto(tablet.url + address);
    await settle(tablet.page);
    await accessible(tablet.page, `${name} on a dark tablet`);
    await picture(tablet.page, `tablet-dark-${name}-asked`);
    expect(await tablet.page.evaluate<number>('document.documentElement.scrollWidth - document.documentElement.clientWidth'), name).toBeLessThanOrEqual(0);
  }
  await tablet.close();
});

it('raised no error in the page on the way', () => {
  expect(errors).toEqual([]);
});
