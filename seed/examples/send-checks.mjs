// Sends checks of a gauge: node send-checks.mjs checks.json   (address in SEAMLEDGER_URL, token in SEAMLEDGER_TOKEN)
import { readFile } from 'node:fs/promises';
import { setTimeout } from 'node:timers/promises';

const { SEAMLEDGER_URL: address = 'http://127.0.0.1:4310', SEAMLEDGER_TOKEN: token } = process.env;
const checks = JSON.parse(await readFile(process.argv[2], 'utf8'));

/** Tries again when the server is away or says to wait: the keys of the checks make that safe. */
async function send(some, triesLeft = 5) {
  const answer = await fetch(`${address}/api/checks/batch`, {
    method: 'POST', body: JSON.stringify({ checks: some }),
    headers: { 'content-type': 'application/json', authorization: `Bearer ${token}` },
  }).catch((error) => ({ status: 503, headers: new Headers(), json: async () => ({ title: `no answer from ${address}:`, detail: error.cause?.message ?? error.message }) }));
  if ((answer.status === 429 || answer.status >= 500) && triesLeft > 0) {
    await setTimeout(1000 * Number(answer.headers.get('retry-after') ?? 5));
    return send(some, triesLeft - 1);
  }
  return { status: answer.status, ...(await answer.json()) };
}

for (let first = 0; first < checks.length; first += 500) {
  const { status, stored, repeated, refused, results, title, detail } = await send(checks.slice(first, first + 500));
  if (status !== 200) { console.error(status, title ?? '', detail ?? ''); process.exit(1); }
  console.log(`${stored} stored, ${repeated} known before, ${refused} refused`);
  for (const { row, problem } of results.filter(({ outcome }) => outcome === 'refused')) console.log(`check ${first + row}: ${problem.detail ?? problem.title}`, ...(problem.errors ?? []).map(({ field, expected }) => `\n  ${field}: ${expected}`));
  if (refused > 0) process.exitCode = 1;
}
