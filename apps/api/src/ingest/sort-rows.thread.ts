import { once } from 'node:events';
import type { MessagePort } from 'node:worker_threads';
import { type FieldError, Problem, type ProblemCode } from '#contract/problem';
import { packPart, type PackedPart } from './pack-part.js';
import { type FileToSort, type MomentOfFile, sortRows, type StoredOf } from './sort-rows.js';

/** What the thread is given. It asks by the port what is stored already, and gives its parts by it. */
export type SortTask = { file: FileToSort; port: MessagePort };
export type FromThread =
  | { kind: 'ask'; moments: readonly MomentOfFile[] }
  | { kind: 'part'; packed: PackedPart }
  | { kind: 'end' }
  /** A thrown error would lose its fields on the way out of the thread. */
  | { kind: 'problem'; code: ProblemCode; detail: string | undefined; errors: FieldError[] | undefined };
export type ToThread = { stored: Awaited<ReturnType<StoredOf>> };

/** Runs in a worker thread: sorts the rows of a file while others are being stored. */
export default async function sortInThread({ file, port }: SortTask): Promise<void> {
  const say = (message: FromThread, bytes: ArrayBuffer[] = []): void => port.postMessage(message, bytes);
  let turn: Promise<unknown> = Promise.resolve();
  const storedOf: StoredOf = (moments) => {
    // One question at a time: the next answer on the port is to this one.
    const answer = turn.then(async () => {
      const answered = once(port, 'message') as Promise<[ToThread]>;
      say({ kind: 'ask', moments });
      return (await answered)[0].stored;
    });
    turn = answer;
    return answer;
  };
  try {
    for await (const part of sortRows(file, storedOf)) {
      const packed = packPart(part);
      say({ kind: 'part', packed }, [packed.readings.buffer, packed.lengths.buffer]);
    }
    say({ kind: 'end' });
  } catch (error) {
    if (!(error instanceof Problem)) throw error;
    say({ kind: 'problem', code: error.code, detail: error.detail, errors: error.errors });
  } finally {
    port.close();
  }
}
