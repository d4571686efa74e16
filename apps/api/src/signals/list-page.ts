import type { AnswerOf, InputOf } from '#contract/endpoint';
import { Problem } from '#contract/problem';
import type { listSignals } from '#contract/signals';
import type { Scope } from '../platform/scope.js';
import { isInScope } from '../platform/scope.store.js';
import type { Tx } from '../platform/work.js';
import { findCursor, listSignalRows } from './signal-pages.store.js';
import { signalRowOf } from './signal-row-of.js';

/** One page of the list, and from which signal on the next one goes; null at the end. */
export async function listPage(tx: Tx, plantId: number, { before, take, ...filter }: InputOf<typeof listSignals>['query'], now: Date, scope: Scope | null = null): Promise<AnswerOf<typeof listSignals>> {
  if (scope && before !== undefined && !(await isInScope(tx, plantId, scope, 'signal', before))) throw new Problem('not-found', `There is no signal ${before}.`);
  const cursor = before === undefined ? undefined : await findCursor(tx, plantId, before);
  const { total, signals } = await listSignalRows(tx, plantId, { ...filter, before: cursor, take: take + 1, scope }, now);
  const shown = signals.slice(0, take).map((row) => signalRowOf(row, scope));
  return { total, signals: shown, next: signals.length > take ? shown.at(-1)?.id ?? null : null };
}
