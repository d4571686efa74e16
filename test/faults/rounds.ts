import pg from 'pg';
import { makeFeedToken } from '#contract/feeds';
import { freezeLimits, listStreams } from '#contract/specifications';
import { differences, factsOf, lostKeys, undelivered } from './facts.js';
import { BASELINE, slice } from './input.js';
import { type FaultKind, faultKinds, Installation } from './installation.js';
import { feed, nothingTold, type Told } from './send.js';

export type FaultReport = {
  rounds: number; acknowledged: number; storedUnanswered: number; askedAgain: number; subgroups: number; signals: number; signalPoints: number;
  /** Acknowledged and not there after a restart; stored or answered twice; differences to the run without faults; outbox rows that were never delivered. */
  lost: string[]; twice: string[]; different: string[]; undelivered: string[];
};

/** Feeds two installations the same; one is killed once a round in the middle of the feeds, the other never. `seed` decides when. */
export async function runRounds(rounds: number, seed: number, say: (line: string) => void): Promise<FaultReport> {
  // Whole minutes in the past, the same for both.
  const began = Math.floor(Date.now() / 60_000) * 60_000 - 60 * 86_400_000;
  const dice = diceOf(seed);
  const [faulted, quiet] = [new Installation(), new Installation()];
  try {
    const lost: string[] = [];
    const { told, token } = await baseline(faulted, began);
    for (let round = 1; round <= rounds; round += 1) {
      const kind = faultKinds[(round - 1) % faultKinds.length] as FaultKind;
      const input = slice(faulted.plant, began, round);
      const size = input.first.length + input.second.length + input.batches.flat().length;
      const [before, after] = [told.ids.size, told.ids.size + Math.floor(size * (0.1 + 0.7 * dice()))];
      const repeated = told.repeated;
      const feeding = feed(faulted, token, input, told);
      // A feed that ends early would leave the kill waiting for ever.
      let over = false;
      feeding.then(() => { over = true; }, () => { over = true; });
      while (told.ids.size < after && !over) await pause(2);
      await pause(15 * dice());
      await storedUnanswered(faulted, told);
      const held = new Map(told.ids);
      const how = await faulted.suffer(kind);
      lost.push(...(await lostKeys(faulted, held)));
      await feeding;
      lost.push(...(await lostKeys(faulted, told.ids)));
      say(`round ${round}: killed ${kind} after ${held.size - before} of ${size} acknowledged; ${how}; ${told.repeated - repeated} were stored without an answer; lost ${lost.length}`);
    }
    const waiting = await undelivered(faulted);
    const mine = await factsOf(faulted);
    await faulted.end();
    const without = await baseline(quiet, began);
    for (let round = 1; round <= rounds; round += 1) await feed(quiet, without.token, slice(quiet.plant, began, round), without.told);
    await undelivered(quiet);
    const theirs = await factsOf(quiet);
    return {
      rounds, acknowledged: told.ids.size, storedUnanswered: told.repeated, askedAgain: told.broken, subgroups: mine['subgroups']?.length ?? 0, signals: mine['signals']?.length ?? 0, signalPoints: mine['signal points']?.length ?? 0,
      lost, twice: [...told.contradictions, ...repeats(mine['seals of checks'] ?? [])], different: [...differences(mine, theirs), ...verdictsThatDiffer(told, without.told)], undelivered: waiting,
    };
  } finally {
    await faulted.end();
    await quiet.end();
  }
}

/** Starts, feeds the baseline without faults, and freezes limits on every stream. */
async function baseline(installation: Installation, began: number): Promise<{ told: Told; token: string }> {
  await installation.begin();
  const ask = async (method: string, path: string, body?: object): Promise<unknown> => {
    const answer = await fetch(`${installation.url}${path}`, { method, headers: { cookie: `seamledger_session=${installation.session}`, 'x-csrf-token': 'csrf-of-faults', ...(body ? { 'content-type': 'application/json' } : {}) }, ...(body ? { body: JSON.stringify(body) } : {}) });
    const text = await answer.text();
    if (answer.status >= 300) throw new Error(`${method} ${path} answered ${answer.status}: ${text.slice(0, 500)}`);
    return JSON.parse(text);
  };
  const { token } = makeFeedToken.answer.parse(await ask('POST', makeFeedToken.path, { name: 'Gauge', scopes: ['checks'], perMinute: 6000, expiresAt: new Date(Date.now() + 86_400_000).toISOString() }));
  const told = nothingTold();
  await feed(installation, token, slice(installation.plant, began, 0), told);
  const { streams } = listStreams.answer.parse(await ask('GET', listStreams.path));
  for (const { id } of streams) await ask('POST', freezeLimits.path.replace(':streamId', String(id)), { from: new Date(began).toISOString(), to: new Date(began + BASELINE * 600_000 - 1).toISOString(), reason: 'the baseline of the fault test' });
  return { told, token };
}

/** Waits for a moment at which more is stored than was answered: killing then leaves checks whose sender knows nothing. Given up after a while. */
async function storedUnanswered(installation: Installation, told: Told): Promise<void> {
  const client = new pg.Client({ connectionString: await installation.databaseUrl() });
  client.on('error', () => {});
  await client.connect();
  for (let look = 0; look < 400; look += 1) {
    const { rows: [row] } = await client.query<{ stored: number }>({ name: 'stored', text: 'SELECT count(*)::int AS stored FROM "check"' });
    if ((row?.stored ?? 0) > told.ids.size) break;
  }
  void client.end().catch(() => {});
}

const repeats = (facts: readonly string[]) => facts.filter((fact) => !/, 1\]$/.test(fact)).map((fact) => `sealed more than once: ${fact}`);
const pause = (ms: number) => new Promise<void>((resolve) => { setTimeout(resolve, ms); });

/** A verdict that was given again is the one that was given, or would have been, the first time. */
function verdictsThatDiffer(faulted: Told, quiet: Told): string[] {
  return [...quiet.verdicts].filter(([key, verdict]) => faulted.verdicts.get(key) !== verdict).map(([key, verdict]) => `verdict of ${key}: "${faulted.verdicts.get(key)}" with faults, "${verdict}" without`).slice(0, 5);
}

/** Numbers from 0 up to 1 that are the same for the same seed (Park and Miller 1988). */
function diceOf(seed: number): () => number {
  let state = Math.max(1, seed % 2_147_483_647);
  return () => { state = (state * 48_271) % 2_147_483_647; return state / 2_147_483_647; };
}
