import type { AnswerOf, InputOf } from '#contract/endpoint';
import type { listSignals } from '#contract/signals';
import type { Tx } from '../platform/work.js';
import { findCursor, listSignalRows } from './signal-pages.store.js';

/** One page of the list, and from which signal on the next one goes; null at the end. */
export async function listPage(tx: Tx, plantId: number, { before, take, ...filter }: InputOf<typeof listSignals>['query'], now: Date): Promise<AnswerOf<typeof listSignals>> {
  const cursor = before === undefined ? undefined : await findCursor(tx, plantId, before);
  const { total, signals } = await listSignalRows(tx, plantId, { ...filter, before: cursor, take: take + 1 }, now);
  const shown = signals.slice(0, take);
  return { total, signals: shown, next: signals.length > take ? shown.at(-1)?.id ?? null : null };
}
