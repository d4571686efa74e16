import type { SignalPage } from '#contract/signals';
import type { Scope } from '../platform/scope.js';
import { idsInScope } from '../platform/scope.store.js';
import type { Tx } from '../platform/work.js';
import { signalRowOf } from '../signals/signal-row-of.js';

/** A signal as an auditor sees it: without notes of past fixes and line events, and only with incidents of their own customer. */
export async function signalPageOf(tx: Tx, plantId: number, page: SignalPage, scope: Scope | null): Promise<SignalPage> {
  if (!scope) return page;
  const theirs = await idsInScope(tx, plantId, scope, 'incident', page.incidents.map(({ id }) => id));
  return { ...page, signal: signalRowOf(page.signal, scope), events: [], notes: [], incidents: page.incidents.filter(({ id }) => theirs.has(id)) };
}
