import { copyFileSync, cpSync, existsSync, mkdirSync, rmSync, statSync } from 'node:fs';
import path from 'node:path';
import { AxeBuilder } from '@axe-core/playwright';
import { type Browser, type BrowserContext, chromium, type Page } from 'playwright-core';
import { afterAll, expect, inject } from 'vitest';
import { freePort } from '../../apps/api/src/platform/free-port.js';
import { scratchFolder, type ServerProcess, startServer, stopServer } from '../start/server-process.js';
import { browserOptions } from './find-browser.mjs';

const SCREENS = path.join(process.cwd(), 'test', 'output', 'screens');

export type Visit = { page: Page; context: BrowserContext; url: string; close(): Promise<void> };
export type Installation = { readonly server: ServerProcess; /** Ends the server as a power cut would. */ kill(): Promise<void>; /** Starts it again, on the same data and address. */ restart(): Promise<void>; open(options?: { width?: number; height?: number; dark?: boolean }): Promise<Visit>; close(): Promise<void> };

/** The demo plant ends at the moment it was seeded, and a line whose counters were quiet for a quarter of an hour stands: older copies would show another Now. */
const FRESH_MS = 8 * 60_000;

/** The data folder of a demo plant that was seeded in the last minutes, as a copy of one's own. */
async function demoData(): Promise<string> {
  const [kept, data] = [path.join(inject('seeded'), 'data'), scratchFolder()];
  if (!existsSync(kept) || Date.now() - statSync(kept).mtimeMs > FRESH_MS) {
    rmSync(kept, { recursive: true, force: true });
    const seeding = startServer({ SEAMLEDGER_DATA: data, PORT: String(await freePort()) });
    await seeding.ready;
    await stopServer(seeding);
    cpSync(data, kept, { recursive: true, preserveTimestamps: false });
    return data;
  }
  cpSync(kept, data, { recursive: true });
  return data;
}

/** The built program with the demo plant, or as `env` says on an empty data folder, and a browser to walk through it. */
export async function install(env: Record<string, string> = {}): Promise<Installation> {
  const data = Object.keys(env).length === 0 ? await demoData() : scratchFolder();
  const given = { SEAMLEDGER_DATA: data, PORT: String(await freePort()), ...env };
  let server = startServer(given);
  const browser: Browser = await chromium.launch(await browserOptions());
  await server.ready;
  return {
    get server() { return server; },
    async kill() {
      server.child.kill('SIGKILL');
      await server.ended;
    },
    async restart() {
      server = startServer(given);
      await server.ready;
    },
    async open({ width = 1440, height = 900, dark = false } = {}) {
      const context = await browser.newContext({ viewport: { width, height }, colorScheme: dark ? 'dark' : 'light', locale: 'en-GB', timezoneId: 'America/New_York' });
      const page = await context.newPage();
      page.setDefaultTimeout(20_000);
      return { page, context, url: server.url, close: () => context.close() };
    },
    async close() {
      await browser.close();
      await stopServer(server);
      rmSync(data, { recursive: true, force: true });
    },
  };
}

export async function signIn({ page, url }: Visit, login = 'quinta', password = 'seamledger-demo'): Promise<void> {
  await page.goto(url);
  await page.getByLabel('Login name').fill(login);
  await page.locator('input[type=password]').fill(password);
  await page.getByRole('button', { name: 'Sign in' }).click();
  await page.getByRole('button', { name: 'Sign out' }).waitFor();
}

/** The demo plant in a browser for one spec file, signed in unless `login` is null, and closed after its last test. `errors` fills with what the page throws. */
export async function visitDemo({ login = 'quinta', ...screen }: { login?: string | null; width?: number; height?: number; dark?: boolean } = {}): Promise<{ installation: Installation; visit: Visit; page: Page; errors: string[] }> {
  const installation = await install();
  try {
    const visit = await installation.open(screen);
    const errors: string[] = [];
    visit.page.on('pageerror', (error) => errors.push(error.message));
    if (login !== null) await signIn(visit, login);
    afterAll(async () => { await visit.close(); await installation.close(); });
    return { installation, visit, page: visit.page, errors };
  } catch (error) {
    // A file that fails while it is read gets no afterAll: server and browser would go on.
    await installation.close();
    throw error;
  }
}

/** `SEAMLEDGER_PICTURES=1 npm test` renews the pictures of the README from its run. */
export function keepPictures(names: readonly string[]): void {
  if (!process.env['SEAMLEDGER_PICTURES']) return;
  mkdirSync('apps/web/pictures', { recursive: true });
  for (const name of names) copyFileSync(path.join(SCREENS, `${name}.jpg`), `apps/web/pictures/${name}.jpg`);
}

/** Waits until nothing is loading any more and the charts are drawn, and keeps a picture in test/output/screens. */
export async function picture(page: Page, name: string): Promise<void> {
  await settle(page);
  mkdirSync(SCREENS, { recursive: true });
  await page.screenshot({ path: path.join(SCREENS, `${name}.png`) });
  if (process.env['SEAMLEDGER_PICTURES']) await page.screenshot({ path: path.join(SCREENS, `${name}.jpg`), type: 'jpeg', quality: 70 });
}

const SETTLED = "![...document.querySelectorAll('[role=status]')].some((node) => /^Loading/.test(node.textContent ?? '')) && document.querySelectorAll('[data-plot=waiting]').length === 0";

/** Asked from outside: the page's own policy rightly forbids evaluating text inside it. */
export async function settle(page: Page): Promise<void> {
  for (let wait = 0; wait < 200; wait += 1) {
    await page.waitForTimeout(100);
    if (await page.evaluate<boolean>(SETTLED)) return;
  }
  throw new Error('something is still loading after 20 s');
}

/** No violation of WCAG 2.2 A and AA that the checker can find. */
export async function accessible(page: Page, name: string): Promise<void> {
  const { violations } = await new AxeBuilder({ page }).withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']).analyze();
  expect(violations.map((violation) => `${violation.id}: ${violation.nodes.slice(0, 3).map((node) => `${node.target.join(' ')} ${node.failureSummary?.split('\n')[1] ?? ''}`).join(' | ')}`), name).toEqual([]);
}
