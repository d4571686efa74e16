import pg from 'pg';
import { makeFeedToken } from '#contract/feeds';
import { freezeLimits, listStreams } from '#contract/specifications';
import { askOf } from './ask.js';
import { differences, factsOf, lostKeys, undelivered } from './facts.js';
import { BASELINE, slice } from './input.js';
import { type FaultKind, faultKinds, Installation } from './installation.js';
import { Monitor } from './monitor.js';
import { feed, nothingTold, type Told } from './send.js';

export type FaultReport = {
  rounds: number; acknowledged: number; storedUnanswered: number; askedAgain: number; bodies: number; bodiesSentAgain: number; subgroups: number; signals: number; signalPoints: number; chunks: number;
  /** Acknowledged and not there after a restart; stored or answered twice; differences to the run without faults; outbox rows that were never delivered. */
  lost: string[]; twice: string[]; different: string[]; undelivered: string[];
};

const BODIES_FIRST = 300;
const BODIES_A_ROUND = 400;

/** Feeds two installations the same, checks by HTTP and every body by MQTT; one is killed once a round in the middle of the feeds, the other never. `seed` decides when. */
export async function runRounds(rounds: number, seed: number, say: (line: string) => void): Promise<FaultReport> {
  // Whole minutes in the past, the same for both.
  const began = Math.floor(Date.now() / 60_000) * 60_000 - 60 * 86_400_000;
  const dice = diceOf(seed);
  const [faulted, quiet] = [new Installation(), new Installation()];
  let monitor: Monitor | undefined;
  try {
    const ends = [];
    for (const installation of [faulted, quiet]) ends.push({ installation, ask: askOf(installation), told: nothingTold(), token: await begin(installation) });
    const [mine, theirs] = ends as [typeof ends[number], typeof ends[number]];
    for (const { installation, token, told } of ends) await feed(installation, token, slice(installation.plant, began, 0), told);
    monitor = await Monitor.begin(ends);
    const firstBody = Date.now();
    await monitor.send(BODIES_FIRST);
    await monitor.stored();
    const lastBody = Date.now();
    for (const { ask } of ends) await freeze(ask, began, firstBody, lastBody);

    const lost: string[] = [];
    for (let round = 1; round <= rounds; round += 1) {
      const kind = faultKinds[(round - 1) % faultKinds.length] as FaultKind;
      const input = slice(faulted.plant, began, round);
      const size = input.first.length + input.second.length + input.batches.flat().length;
      const [before, after, repeated] = [mine.told.ids.size, mine.told.ids.size + Math.floor(size * (0.1 + 0.7 * dice())), mine.told.repeated];
      const feeding = Promise.all([feed(faulted, mine.token, input, mine.told), monitor.send(BODIES_A_ROUND)]);
      // A feed that ends early would leave the kill waiting for ever.
      let over = false;
      feeding.then(() => { over = true; }, () => { over = true; });
      while (mine.told.ids.size < after && !over) await pause(2);
      await pause(15 * dice());
      await storedUnanswered(faulted, mine.told);
      const held = new Map(mine.told.ids);
      const how = await faulted.suffer(kind);
      lost.push(...(await lostKeys(faulted, held)));
      await feeding;
      lost.push(...(await lostKeys(faulted, mine.told.ids)));
      await feed(quiet, theirs.token, input, theirs.told);
      const [again = 0] = await monitor.stored();
      say(`round ${round}: killed ${kind} after ${held.size - before} of ${size} checks were acknowledged; ${how}; ${mine.told.repeated - repeated} checks were stored without an answer, ${again} readings came twice so far; lost ${lost.length}`);
    }
    await monitor.folded();
    const [sentAgain = 0] = await monitor.stored();
    const waiting = [...(await undelivered(faulted)), ...(await undelivered(quiet))];
    const [facts, wanted] = [await factsOf(faulted), await factsOf(quiet)];
    const counted = (kind: string) => facts[kind]?.length ?? 0;
    return {
      rounds, acknowledged: mine.told.ids.size, storedUnanswered: mine.told.repeated, askedAgain: mine.told.broken, bodies: monitor.published, bodiesSentAgain: sentAgain,
      subgroups: counted('subgroups'), signals: counted('signals'), signalPoints: counted('signal points'), chunks: counted('every-body chunks'),
      lost, twice: [...mine.told.contradictions, ...repeats(facts['seals of checks'] ?? [])], different: [...differences(facts, wanted), ...verdictsThatDiffer(mine.told, theirs.told)], undelivered: waiting,
    };
  } finally {
    await faulted.end();
    await quiet.end();
    await monitor?.end();
  }
}

/** Starts; answers the token of a gauge. */
async function begin(installation: Installation): Promise<string> {
  await installation.begin();
  return makeFeedToken.answer.parse(await askOf(installation)('POST', makeFeedToken.path, { name: 'Gauge', scopes: ['checks'], perMinute: 6000, expiresAt: new Date(Date.now() + 86_400_000).toISOString() })).token;
}

/** Limits on every stream: of checks from the first ones on, of the monitor's (lane B) from the first body on. */
async function freeze(ask: ReturnType<typeof askOf>, began: number, firstBody: number, lastBody: number): Promise<void> {
  const { streams } = listStreams.answer.parse(await ask('GET', listStreams.path));
  for (const { id, lane } of streams) {
    const [from, to] = lane?.code === 'B' ? [firstBody - 1, lastBody] : [began, began + BASELINE * 600_000 - 1];
    await ask('POST', freezeLimits.path.replace(':streamId', String(id)), { from: new Date(from).toISOString(), to: new Date(to).toISOString(), reason: 'the baseline of the fault test' });
  }
}

/** Waits for a moment at which more is stored than was answered: killing then leaves checks whose sender knows nothing. Given up after a while. */
async function storedUnanswered(installation: Installation, told: Told): Promise<void> {
  const client = new pg.Client({ connectionString: await installation.databaseUrl() });
  client.on('error', () => {});
  await client.connect();
  for (let look = 0; look < 400; look += 1) {
    const { rows: [row] } = await client.query<{ stored: number }>({ name: 'stored', text: 'SELECT count(*)::int AS stored FROM "check" WHERE source <> \'monitor\'' });
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
