import type { BrowserContext, Page } from 'playwright-core';
import { expect, it } from 'vitest';
import { getCheck, listChecks } from '#contract/inspections';
import { getPlant } from '#contract/plant';
import { accessible, picture, settle, signIn, visitDemo } from './harness.js';

// A gauge on a serial port that this file plays: a port of the Web Serial API (WICG draft) with real streams, put in place before the page loads.
const PORT = `(() => {
  let pipe = null;
  const bytes = (text) => new TextEncoder().encode(text);
  const fresh = () => { port.readable = new ReadableStream({ start(controller) { pipe = controller; } }); };
  const port = {
    readable: null,
    async open({ baudRate }) { if (port.readable) throw new DOMException('The port is already open.', 'InvalidStateError'); told.opened.push(baudRate); fresh(); },
    async close() { if (port.readable?.locked) throw new TypeError('The stream is locked.'); port.readable = null; told.closed += 1; },
  };
  const told = { opened: [], closed: 0 };
  window.testGauge = {
    told, refuse: null,
    send(text) { pipe.enqueue(bytes(text)); },
    raw(list) { pipe.enqueue(new Uint8Array(list)); },
    unplug() { const gone = pipe; port.readable = null; gone.error(new DOMException('The device has been lost.', 'NetworkError')); },
    noise() { const torn = pipe; fresh(); torn.error(new DOMException('A framing error.', 'FramingError')); },
  };
  Object.defineProperty(navigator, 'serial', { configurable: true, value: { async requestPort() { const name = window.testGauge.refuse; if (name) throw new DOMException('refused', name); return port; } } });
})()`;
const { installation, visit: desk, errors } = await visitDemo();

/** A page of its own, with that script run before the program's. */
async function prepared(script: string, screen: { width?: number; height?: number; dark?: boolean } = {}): Promise<{ page: Page; context: BrowserContext; url: string; close: () => Promise<void> }> {
  const visit = await installation.open(screen);
  visit.page.on('pageerror', (error) => errors.push(error.message));
  await visit.context.addInitScript(script);
  await signIn(visit);
  return visit;
}
const visit = await prepared(PORT);
const { page } = visit;
const act = (call: string) => page.evaluate<unknown>(`window.testGauge.${call}`);
const send = (text: string) => act(`send(${JSON.stringify(text)})`);
const told = () => page.evaluate<{ opened: number[]; closed: number }>('window.testGauge.told');
const focused = () => page.evaluate<string>("document.activeElement?.getAttribute('aria-label') ?? document.activeElement?.textContent ?? ''");
const cell = (label: string) => page.getByLabel(label, { exact: true });
const value = (label: string) => cell(label).inputValue();
const plant = getPlant.answer.parse(await (await desk.page.request.get(`${desk.url}/api/plant`)).json());
const planNamed = (name: string) => { const plan = plant.checkPlans.find((each) => each.name === name); expect(plan, name).toBeDefined(); return `/log?machine=${plan?.machineId}&plan=${plan?.id}`; };
const overlap = (can: number, point: string) => `Can ${can}, weld overlap, point ${point}, mm`;
const thickness = (can: number, point: string) => `Can ${can}, weld thickness, point ${point}, mm`;
const checks = async () => listChecks.answer.parse(await (await page.request.get(`${visit.url}/api/checks?take=200`)).json()).checks;
const connect = async () => { await page.getByRole('button', { name: 'Connect a gauge' }).click(); await page.getByText('Serial gauge: connected', { exact: true }).waitFor(); };

it('types what the gauge sends into the chosen cell and goes on, however the lines are torn, and nothing counts before it is saved', async () => {
  await page.goto(visit.url + planNamed('Weld check BM21'));
  await cell(overlap(1, 'front')).focus();
  await page.getByText('Serial gauge: not connected').click();
  await connect();
  const before = (await checks()).length;
  await send('0.4');
  await send('2 m');
  expect(await value(overlap(1, 'front'))).toBe('');
  await send('m\r');
  await page.getByText('Can 1, weld overlap, point front, mm: 0.42 mm taken.').waitFor();
  expect([await value(overlap(1, 'front')), await focused()]).toEqual(['0.42', overlap(1, 'middle')]);
  await send('\n+000.430mm\r\n');
  await page.getByText('point middle, mm: 0.430 mm taken.').waitFor();
  // Two lines in one piece are two cells; digits alone get the point of the gauge.
  await send('44\r\n0,221\r\n');
  await page.getByText('Can 1, weld thickness, point front, mm: 0,221 mm taken.').waitFor();
  expect([await value(overlap(1, 'middle')), await value(overlap(1, 'back')), await value(thickness(1, 'front')), await focused()]).toEqual(['0.430', '0.44', '0,221', thickness(1, 'middle')]);
  await page.getByText('4 of 30 readings').waitFor();
  expect((await checks()).length).toBe(before);
  await settle(page);
  await accessible(page, 'entry with a serial gauge');
  await picture(page, 'serial-gauge');
});

it('says what it does not take and stays where it is: no number, another unit, bytes that are no text, noise on the line', async () => {
  for (const [line, said] of [['ERR 2 ?', 'No number found in “ERR 2 ?”.'], ['0.0087 in', '“0.0087 in” is in another unit than mm.']] as const) {
    await send(`${line}\r\n`);
    await page.getByText(said).waitFor();
    expect([await value(thickness(1, 'middle')), await focused()]).toEqual(['', thickness(1, 'middle')]);
  }
  await act('raw([255, 254, 0, 13, 10])');
  await page.getByText('No number found in “').waitFor();
  // Noise in the middle of a line: its second half is a number, too, and not the one that was meant.
  await send('0.2');
  await act('noise()');
  await send('31\r\n0.222\r\n');
  await page.getByText('Can 1, weld thickness, point middle, mm: 0.222 mm taken.').waitFor();
  expect([await value(thickness(1, 'middle')), await value(thickness(1, 'back')), await focused()]).toEqual(['0.222', '', thickness(1, 'back')]);
});

it('goes on by keyboard when the gauge is unplugged in the middle of a line, and by the gauge when it is connected again', async () => {
  await send('0.2');
  await act('unplug()');
  await page.getByText('The gauge is gone. Check the cable and connect again.').waitFor();
  await page.getByText('Serial gauge: connection lost').waitFor();
  await accessible(page, 'a gauge that is gone');
  await picture(page, 'serial-gauge-lost');
  expect([await value(thickness(1, 'back')), await focused()]).toEqual(['', thickness(1, 'back')]);
  await page.keyboard.type('0.223', { delay: 60 });
  await page.keyboard.press('Enter');
  expect([await value(thickness(1, 'back')), await focused()]).toEqual(['0.223', overlap(2, 'front')]);
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('ArrowUp');
  await connect();
  expect((await told()).opened).toEqual([9600, 9600]);
  await send('0.41\r\n');
  await page.getByText('Can 2, weld overlap, point front, mm: 0.41 mm taken.').waitFor();
  expect([await value(overlap(2, 'front')), await focused()]).toEqual(['0.41', overlap(2, 'middle')]);
  await page.keyboard.press('Control+z');
  expect(await value(overlap(2, 'front'))).toBe('');
  await send('0.40\r\n');
  await page.getByText('point front, mm: 0.40 mm taken.').waitFor();
});

it('frees the port when it is disconnected, and says why it cannot be had: forbidden, in use, or not chosen', async () => {
  const { closed } = await told();
  await page.getByRole('button', { name: 'Disconnect' }).click();
  await page.getByText('Serial gauge: not connected').waitFor();
  await expect.poll(async () => (await told()).closed).toBe(closed + 1);
  await act('refuse = "SecurityError"');
  await page.getByRole('button', { name: 'Connect a gauge' }).click();
  await page.getByText('The browser does not let this page use serial ports.').waitFor();
  await act('refuse = "InvalidStateError"');
  await page.getByRole('button', { name: 'Connect a gauge' }).click();
  await page.getByText('The port could not be opened. Is another program using it?').waitFor();
  await act('refuse = "NotFoundError"');
  await page.getByRole('button', { name: 'Connect a gauge' }).click();
  await page.getByText('The port could not be opened.').waitFor({ state: 'detached' });
  await act('refuse = null');
  await connect();
});

it('never replaces a reading that nobody chose, nor one behind a window, and is judged like any other when it is saved', async () => {
  await cell(overlap(2, 'middle')).focus();
  await page.getByRole('button', { name: 'Leave out', exact: true }).click();
  await page.getByRole('dialog').waitFor();
  await send('0.49\r\n');
  await page.keyboard.press('Escape');
  await page.getByRole('dialog').waitFor({ state: 'detached' });
  await page.getByText('A reading came while another window was open, and was not taken. Send it again.').waitFor();
  expect(await value(overlap(2, 'middle'))).toBe('');
  await cell(overlap(2, 'middle')).focus();
  // All the rest in one piece, to the last cell and one line beyond it.
  const rest = ['0.43', '0.44', '0.221', '0.222', '0.223', ...[3, 4, 5].flatMap(() => ['0.42', '0.43', '0.44', '0.221', '0.222', '0.223'])];
  await send(`${rest.join('\r\n')}\r\n`);
  await page.getByText('30 of 30 readings').waitFor();
  await send('0.399\r\n');
  await page.getByText('A reading came and was not taken: Can 5, weld thickness, point back, mm has one already.').waitFor();
  expect([await value(thickness(5, 'back')), await focused()]).toEqual(['0.223', 'Save and judge']);
  await picture(page, 'serial-gauge-full');
  // Chosen on purpose, a cell takes another reading.
  await cell(thickness(5, 'back')).focus();
  await send('0.224\r\n');
  await page.getByText('Can 5, weld thickness, point back, mm: 0.224 mm taken.').waitFor();
  expect([await value(thickness(5, 'back')), await focused()]).toEqual(['0.224', 'Save and judge']);
  await page.keyboard.press('Enter');
  await page.getByText(/Check \d+ is stored\./).waitFor();
  const checkId = /Check (\d+) is stored/.exec(await page.getByText(/Check \d+ is stored\./).textContent() ?? '')?.[1];
  const stored = getCheck.answer.parse(await (await page.request.get(`${visit.url}/api/checks/${checkId}`)).json());
  const readings = (code: string) => stored.characteristics.find((each) => each.code === code)?.readings;
  expect(readings('weld-thickness')?.slice(-3)).toEqual([0.221, 0.222, 0.224]);
  expect(readings('weld-overlap')?.slice(0, 6)).toEqual([0.42, 0.43, 0.44, 0.4, 0.43, 0.44]);
});

it('stays connected for the next check, types nothing while no cell is chosen, and frees the port when the form is left', async () => {
  const { opened, closed } = await told();
  await send('0.41\r\n');
  await page.getByRole('button', { name: 'Next check' }).click();
  await page.getByText('Serial gauge: connected', { exact: true }).waitFor();
  expect(await page.getByText(/taken\.$/).count()).toBe(0);
  await send('0.42\r\n');
  await page.getByText('A reading came, but no cell is chosen. Choose a cell and send it again.').waitFor();
  await page.getByText('0 of 30 readings').waitFor();
  await cell(overlap(1, 'front')).focus();
  await send('0.43\r\n');
  await page.getByText('Can 1, weld overlap, point front, mm: 0.43 mm taken.').waitFor();
  expect(await told()).toEqual({ opened, closed });
  await page.getByRole('link', { name: 'Signals', exact: true }).click();
  await expect.poll(async () => (await told()).closed).toBe(closed + 1);
});

it('moves on after whole numbers, too, complete or not, from the gauge and from the keys on the screen', async () => {
  await page.goto(visit.url + planNamed('Stripe film ST21'));
  const film = (can: number, point: string) => `Can ${can}, side-stripe film, point ${point}, µm`;
  await cell(film(1, 'front')).focus();
  await page.getByText('Serial gauge: not connected').click();
  await connect();
  // 60 can grow no further below 150, so the grid goes on by itself; 12 could.
  for (const [line, label] of [['60 µm', film(1, 'front')], ['12', film(1, 'middle')], ['61', film(1, 'back')]] as const) {
    await send(`${line}\r\n`);
    await page.getByText(`${label}: `).waitFor();
    await page.waitForTimeout(60);
  }
  expect([await value(film(1, 'front')), await value(film(1, 'middle')), await value(film(1, 'back')), await focused()]).toEqual(['60', '12', '61', film(2, 'front')]);
  await page.getByRole('button', { name: 'Number pad', exact: true }).click();
  await cell(film(2, 'front')).focus();
  const pad = page.getByRole('group', { name: 'Number pad' });
  for (const key of ['6', '2', '1', '3']) { await pad.getByRole('button', { name: key, exact: true }).click(); await page.waitForTimeout(60); }
  await pad.getByRole('button', { name: 'Next cell' }).click();
  expect([await value(film(2, 'front')), await value(film(2, 'middle')), await focused()]).toEqual(['62', '13', film(2, 'back')]);
});

it('shows nothing of it where the browser has no serial ports, and the keyboard does all', async () => {
  const without = await prepared("Object.defineProperty(navigator, 'serial', { configurable: true, value: undefined })", { width: 1024, height: 768, dark: true });
  await without.page.goto(without.url + planNamed('Weld check BM21'));
  const first = without.page.getByLabel(overlap(1, 'front'), { exact: true });
  await first.focus();
  await without.page.keyboard.type('0.42', { delay: 60 });
  await without.page.keyboard.press('Enter');
  expect(await first.inputValue()).toBe('0.42');
  expect(await without.page.getByText(/Serial gauge/).count()).toBe(0);
  await without.close();
  expect(errors).toEqual([]);
});
