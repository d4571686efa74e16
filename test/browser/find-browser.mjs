// Which Chromium the browser tests use: SEAMLEDGER_BROWSER, or the one inside an npm package. Run by itself it says whether that one starts.
import { chromium } from 'playwright-core';

const QUIET = ['--no-sandbox', '--disable-quic', '--no-first-run', '--disable-background-networking', '--disable-component-update', '--disable-sync'];

/** Launch options for playwright. */
export async function browserOptions() {
  const own = process.env.SEAMLEDGER_BROWSER;
  if (own) return { executablePath: own, args: QUIET };
  const { default: packaged } = await import('@sparticuz/chromium');
  return { executablePath: await packaged.executablePath(), args: [...packaged.args.filter((arg) => !/^--(single-process|no-zygote|headless)/.test(arg)), ...QUIET] };
}

if (process.argv[1] === import.meta.filename) {
  try {
    const browser = await chromium.launch(await browserOptions());
    console.log(`browser: Chromium ${browser.version()}`);
    await browser.close();
  } catch (error) {
    console.error(`browser: ${error.message.split('\n')[0]}`);
    process.exit(1);
  }
}
