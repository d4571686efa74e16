import { availableParallelism } from 'node:os';
import { MessageChannel } from 'node:worker_threads';
import { Piscina } from 'piscina';
import { Problem } from '#contract/problem';
import { MOST_SECONDS } from '#contract/workbench/method';
import { threadFile } from '../platform/thread-file.js';
import type { Outcome, Task } from './worker.js';

export type RunState = { readonly state: 'waiting' | 'running'; readonly share: number; readonly seconds: number };
type Run = { abort: AbortController; share: number; begun: number | null; asked: number; client: string };

const THREADS = Math.max(1, Math.min(4, availableParallelism() - 1));
const MOST_WAITING = 16;
const MOST_A_CLIENT = 4;

/**
 * The computations under way. Each has a worker thread for itself while it lasts, so the event loop stays free; a run
 * that is stopped, left by its client or too long loses its thread at once.
 */
export class Runs {
  private readonly runs = new Map<string, Run>();
  private pool: Piscina<Task, Outcome> | null = null;

  /**
   * Computes and answers JSON text.
   * @param key the caller's name for the run, or one of our own
   * @throws Problem of the computation; busy, takes-too-long, stopped
   */
  async compute(key: string, path: string, body: Uint8Array, client: string, left: AbortSignal): Promise<string> {
    if (this.runs.has(key)) throw new Problem('already-there', 'A run with this key is under way: make a new key for each.');
    const mine = [...this.runs.values()].filter((run) => run.client === client).length;
    if (mine >= MOST_A_CLIENT || this.runs.size >= THREADS + MOST_WAITING) throw new Problem('busy', mine >= MOST_A_CLIENT ? `At most ${MOST_A_CLIENT} computations at a time are taken from one address.` : undefined);
    const run: Run = { abort: new AbortController(), share: 0, begun: null, asked: performance.now(), client };
    this.runs.set(key, run);
    const { port1, port2 } = new MessageChannel();
    port1.on('message', (share: number) => { run.begun ??= performance.now(); run.share = share; });
    // The clock runs from the request on: waiting for a thread is the caller's time too.
    const signal = AbortSignal.any([run.abort.signal, left, AbortSignal.timeout(MOST_SECONDS * 1000)]);
    try {
      const outcome = await this.threads().run({ path, body, port: port2 }, { transferList: [port2], signal });
      if ('problem' in outcome) throw new Problem(outcome.problem.code, outcome.problem.detail, outcome.problem.errors);
      return outcome.answer;
    } catch (error) {
      if (error instanceof Problem || !signal.aborted) throw error;
      if (run.abort.signal.aborted || left.aborted) throw new Problem('stopped');
      throw new Problem('takes-too-long', `At most ${MOST_SECONDS} seconds are given to one computation: send fewer numbers or ask for less.`);
    } finally {
      port1.close();
      this.runs.delete(key);
    }
  }

  stateOf(key: string): RunState {
    const run = this.find(key);
    return { state: run.begun === null ? 'waiting' : 'running', share: Math.min(1, Math.max(0, run.share)), seconds: (performance.now() - run.asked) / 1000 };
  }

  stop(key: string): void {
    this.find(key).abort.abort();
  }

  /** Ends the threads, whatever they are doing. */
  async close(): Promise<void> {
    await this.pool?.destroy();
  }

  private find(key: string): Run {
    const run = this.runs.get(key);
    if (!run) throw new Problem('not-found', 'No computation with this key is under way: it has ended or never began.');
    return run;
  }

  private threads(): Piscina<Task, Outcome> {
    // Without the process's own flags: the tests make it resolve #names to TypeScript sources, which a thread cannot load.
    this.pool ??= new Piscina<Task, Outcome>({ filename: threadFile(import.meta.url, './worker.js'), execArgv: [], minThreads: 0, maxThreads: THREADS, maxQueue: MOST_WAITING, idleTimeout: 60_000, resourceLimits: { maxOldGenerationSizeMb: 1024 } });
    return this.pool;
  }
}
