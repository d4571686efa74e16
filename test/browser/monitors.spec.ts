import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { startBroker, type TestBroker } from '../db/broker.js';
import { accessible, type Installation, install, picture, settle, signIn, type Visit } from './harness.js';

// An engineer names a broker, maps a topic, looks at what could not be taken and has it taken after all.
let installation: Installation;
let broker: TestBroker;
let visit: Visit;
let page: Page;
const errors: string[] = [];
beforeAll(async () => {
  installation = await install();
  broker = await startBroker();
  visit = await installation.open();
  page = visit.page;
  page.on('pageerror', (error) => errors.push(error.message));
  await signIn(visit);
});
afterAll(async () => { await visit.close(); await installation.close(); await broker.close(); });

/** The card of the broker that this spec adds; the demo plant's own stands beside it. */
const card = () => page.getByRole('region', { name: 'Weld monitors', exact: true });

it('says what to do where there is no feed yet', async () => {
  // The demo plant has a feed, which is switched off: here the list is answered as a plant without any has it.
  await page.route('**/api/monitors', (route) => route.fulfill({ json: { feeds: [], keepDays: null } }));
  await page.goto(`${visit.url}/set-up`);
  await page.getByRole('link', { name: 'In-line monitors' }).click();
  await page.getByText('Name the broker that the plant’s monitors publish to', { exact: false }).waitFor();
  await settle(page);
  await accessible(page, 'monitors, none');
  await picture(page, 'monitors-none');
  await page.unroute('**/api/monitors');
  await page.reload();
  await page.getByRole('region', { name: 'Weld monitors, line 3' }).waitFor();
});

it('connects to a broker, and takes what a mapped topic brings', async () => {
  await page.getByRole('button', { name: 'Add a broker' }).click();
  const dialog = page.getByRole('dialog');
  await dialog.getByLabel('Name', { exact: false }).first().fill('Weld monitors');
  await page.getByLabel('Address').fill(broker.url);
  await page.getByLabel('Protocol').selectOption('MQTT 3.1.1');
  await accessible(page, 'broker form');
  await dialog.getByRole('button', { name: 'Save' }).click();
  await page.getByText(/^Connected since/).waitFor();
  await card().getByRole('button', { name: 'Map a topic' }).click();
  await page.getByLabel('Topic filter').fill('salt-ridge/weld');
  await page.getByLabel('Machine').selectOption({ index: 1 });
  await page.getByLabel('Product', { exact: true }).selectOption({ index: 1 });
  await page.getByLabel('Channels').fill('/overlap; no-such-thing');
  await dialog.getByRole('button', { name: 'Save' }).click();
  await page.getByText('Line 1 of the channels: “no-such-thing” is not known at this machine').waitFor();
  await page.getByLabel('Channels').fill('/overlap; weld-overlap');
  await accessible(page, 'topic form');
  await picture(page, 'monitors-topic');
  await dialog.getByRole('button', { name: 'Save' }).click();
  await page.getByText('1 channel; 5 in a row of every 650').waitFor();
  await page.waitForTimeout(3000);
  for (let body = 1300; body < 1306; body += 1) await broker.publish('salt-ridge/weld', { at: Date.now(), body, overlap: 0.42 });
  await broker.publish('salt-ridge/weld', '{"at": 17');
  await broker.publish('salt-ridge/weld', { at: Date.now(), body: 1306, overlap: 'high' });
  await page.getByText('2 messages wait').waitFor();
  await page.getByText('/overlap: needs a number, or null for a missing reading, "high" is there').waitFor();
  await card().locator('dt:has-text("Readings stored") + dd', { hasText: '6' }).waitFor();
  await accessible(page, 'monitors');
  await picture(page, 'monitors');
});

it('takes messages once more, and puts aside with a reason what stays wrong', async () => {
  await page.getByLabel('Choose all').check();
  await page.getByRole('button', { name: 'Take them once more' }).click();
  // They leave the list, are tried by the mapping as it is, and come back.
  await page.waitForTimeout(6000);
  await page.reload();
  await page.getByText('2 messages wait').waitFor();
  await page.getByLabel('Choose all').check();
  expect(await page.getByRole('button', { name: 'Put aside' }).isDisabled()).toBe(true);
  await page.getByLabel('Why they are put aside').fill('the monitor was being set up');
  await page.getByRole('button', { name: 'Put aside' }).click();
  await card().getByText('Nothing is kept apart.').or(card().getByText('Asked for', { exact: false })).waitFor();
  expect(errors).toEqual([]);
});

it('fits a tablet, in the dark', async () => {
  const tablet = await installation.open({ width: 1024, height: 768, dark: true });
  await signIn(tablet);
  await tablet.page.goto(`${tablet.url}/set-up/monitors`);
  await tablet.page.getByText(/^Connected since/).waitFor();
  await accessible(tablet.page, 'monitors on a tablet');
  expect(await tablet.page.evaluate<boolean>('document.documentElement.scrollWidth <= window.innerWidth')).toBe(true);
  await picture(tablet.page, 'monitors-tablet-dark');
  await tablet.close();
});
