import { MessageChannel } from 'node:worker_threads';
import { Piscina } from 'piscina';
import { Problem } from '#contract/problem';
import { threadFile } from '../platform/thread-file.js';
import { type PackedPart, unpackPart } from './pack-part.js';
import type { FromThread, SortTask } from './sort-rows.thread.js';
import type { FileToSort, SortedPart, StoredOf } from './sort-rows.js';

const THREADS = 2;
const IDLE_MS = 60_000;
const MOST_MEMORY_MB = 2048;
/** Rows live until their check is whole: where they die young, nobody copies them. */
const YOUNG_MEMORY_MB = 96;

/** Threads that read and sort the files of imports, so that this one has its time for judging and for everybody's requests. */
export class SortingThreads {
  private pool: Piscina<SortTask, void> | null = null;

  /** The parts of a file, as `sortRows` answers them. The thread reads on while a part is being worked on; who leaves early ends it. */
  async *sort(file: FileToSort, storedOf: StoredOf): AsyncGenerator<SortedPart> {
    // Without the process's own flags: the tests make it resolve #names to TypeScript sources, which a thread cannot load.
    this.pool ??= new Piscina<SortTask, void>({ filename: threadFile(import.meta.url, './sort-rows.thread.js'), execArgv: [], minThreads: 0, maxThreads: THREADS, idleTimeout: IDLE_MS, resourceLimits: { maxOldGenerationSizeMb: MOST_MEMORY_MB, maxYoungGenerationSizeMb: YOUNG_MEMORY_MB } });
    const { port1, port2 } = new MessageChannel();
    const parts: PackedPart[] = [];
    let outcome: { error: unknown } | 'ended' | null = null;
    let wake = () => {};
    const end = (how: { error: unknown } | 'ended') => {
      outcome ??= how;
      wake();
    };
    port1.on('message', (message: FromThread) => {
      if (message.kind === 'ask') storedOf(message.moments).then((stored) => port1.postMessage({ stored }), (error: unknown) => end({ error }));
      else if (message.kind === 'end') end('ended');
      else if (message.kind === 'problem') end({ error: new Problem(message.code, message.detail, message.errors) });
      else {
        parts.push(message.packed);
        wake();
      }
    });
    const leave = new AbortController();
    this.pool.run({ file, port: port2 }, { transferList: [port2], signal: leave.signal }).catch((error: unknown) => end({ error }));
    try {
      for (;;) {
        const part = parts.shift();
        if (part) yield unpackPart(part);
        else if (outcome === 'ended') return;
        else if (outcome !== null) throw (outcome as { error: unknown }).error;
        else await new Promise<void>((resolve) => { wake = resolve; });
      }
    } finally {
      leave.abort();
      port1.close();
    }
  }

  async close(): Promise<void> {
    await this.pool?.destroy();
  }
}
