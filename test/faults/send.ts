import { batchAnswer } from '#contract/feeds';
import { checkVerdict } from '#contract/inspections';
import type { Installation } from './installation.js';
import type { Sent, Slice } from './input.js';

/** What the senders were told, and how often they had to ask. */
export type Told = {
  /** Key to the id of the stored check: acknowledged. */
  ids: Map<string, number>;
  /** Key to the verdict that came with the acknowledgement. */
  verdicts: Map<string, string>;
  /** Stored before, the answer of which never came. */
  repeated: number;
  broken: number;
  contradictions: string[];
};
export const nothingTold = (): Told => ({ ids: new Map(), verdicts: new Map(), repeated: 0, broken: 0, contradictions: [] });

const ATTEMPTS = 900;
const PAUSE_MS = 100;

/** Feeds one slice by three senders at the same time. Each keeps its order and asks again with the same keys until it is answered. */
export async function feed(installation: Installation, token: string, { first, second, batches }: Slice, told: Told): Promise<void> {
  const person = { cookie: `seamledger_session=${installation.session}`, 'x-csrf-token': 'csrf-of-faults' };
  const gauge = { authorization: `Bearer ${token}` };
  const singles = async (checks: readonly Sent[], headers: Record<string, string>) => {
    for (const check of checks) {
      const { checkId, repeated, status, subgroups } = checkVerdict.parse(await untilAnswered(installation, '/api/checks', headers, check, told));
      acknowledge(told, check.key, checkId, repeated);
      told.verdicts.set(check.key, `${status} ${subgroups.map((entry) => `${entry.characteristic} ${entry.status} ${entry.firings.map(({ chart, rule, side }) => `${chart} ${rule} ${side}`).join('+')}`).join(', ')}`);
    }
  };
  const many = async () => {
    for (const batch of batches) {
      let left = batch;
      for (let attempt = 0; left.length > 0; attempt += 1) {
        if (attempt > ATTEMPTS) throw new Error(`a batch was refused ${ATTEMPTS} times`);
        const { results } = batchAnswer.parse(await untilAnswered(installation, '/api/checks/batch', gauge, { checks: left }, told));
        for (const { key, outcome, checkId, problem } of results) {
          if (outcome === 'refused') {
            if (!problem || problem.status < 500) throw new Error(`${key} was refused: ${JSON.stringify(problem)}`);
            told.broken += 1;
          } else acknowledge(told, String(key), checkId as number, outcome === 'repeated');
        }
        left = left.filter(({ key }) => !told.ids.has(key));
      }
    }
  };
  await Promise.all([singles(first, person), singles(second, gauge), many()]);
}

function acknowledge(told: Told, key: string, id: number, repeated: boolean): void {
  const known = told.ids.get(key);
  if (known !== undefined && known !== id) told.contradictions.push(`${key} was acknowledged as check ${known}, then as ${id}`);
  told.ids.set(key, id);
  if (repeated) told.repeated += 1;
}

/** A broken connection and a 5xx mean "not known whether stored": the same is sent again. Anything else is a mistake of this test. */
async function untilAnswered(installation: Installation, path: string, headers: Record<string, string>, body: object, told: Told): Promise<unknown> {
  for (let attempt = 0; attempt < ATTEMPTS; attempt += 1) {
    try {
      const answer = await fetch(`${installation.url}${path}`, { method: 'POST', headers: { ...headers, 'content-type': 'application/json' }, body: JSON.stringify(body), signal: AbortSignal.timeout(30_000) });
      const text = await answer.text();
      if (answer.status < 300) return JSON.parse(text);
      if (answer.status < 500) throw new Refused(`${path} answered ${answer.status}: ${text.slice(0, 500)}`);
    } catch (error) {
      if (error instanceof Refused) throw error;
    }
    told.broken += 1;
    await new Promise((resolve) => { setTimeout(resolve, PAUSE_MS); });
  }
  throw new Error(`${path} was not answered in ${ATTEMPTS} attempts: ${installation.words().slice(-2000)}`);
}

class Refused extends Error {}
