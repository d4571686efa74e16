import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { chromium } from 'playwright-core';
import { median } from '../measure.js';
import type { BenchServer } from '../server.js';
import type { Filled } from './fill.js';

/** Noted inside the page: when the chart stands on the screen, after the frame that shows it. */
const WATCH = `addEventListener('DOMContentLoaded', () => {
  const look = () => {
    if (!document.querySelector('figure[data-plot="drawn"]')) return;
    watch.disconnect();
    requestAnimationFrame(() => setTimeout(() => { window.drawnAt = performance.now(); }));
  };
  const watch = new MutationObserver(look);
  watch.observe(document, { subtree: true, childList: true, attributes: true });
});`;

/** Milliseconds from the end of the chart's answer to the drawn chart, in headless Chromium; the first visit also fetches the drawing library. */
export async function drawYear({ url, session }: BenchServer, { drawn: { ids, from, subgroups }, to }: Filled): Promise<string> {
  const { browserOptions } = await import(pathToFileURL(path.resolve('test/browser/find-browser.mjs')).href) as typeof import('../../browser/find-browser.mjs');
  const browser = await chromium.launch(await browserOptions());
  try {
    const context = await browser.newContext({ viewport: { width: 1440, height: 900 }, locale: 'en-GB' });
    await context.addCookies([{ name: 'seamledger_session', value: session, url }]);
    await context.addInitScript(WATCH);
    const page = await context.newPage();
    const visits: number[] = [];
    for (let visit = 0; visit < ids.length; visit += 1) {
      await page.goto(`${url}/charts?stream=${ids[visit]}&from=${from.toISOString()}&to=${to.toISOString()}&last=20000`);
      await page.waitForFunction(() => 'drawnAt' in globalThis, undefined, { timeout: 60_000 });
      const { drawn, answered } = await page.evaluate(() => ({
        drawn: Reflect.get(globalThis, 'drawnAt') as number,
        answered: performance.getEntriesByType('resource').filter(({ name }) => /\/api\/charts\/\d+\?/.test(name)).map((entry) => Reflect.get(entry, 'responseEnd') as number),
      }));
      if (answered[0] === undefined) throw new Error('the page asked for no chart');
      visits.push(drawn - answered[0]);
    }
    return `the browser draws ${subgroups} subgroups ${median(visits.slice(1)).toFixed(0)} ms after the answer (p50 of ${ids.length - 1} visits; first visit ${visits[0]?.toFixed(0)} ms; aim 1000 ms): ${median(visits.slice(1)) <= 1000 ? 'met' : 'NOT MET'}`;
  } finally {
    await browser.close();
  }
}
