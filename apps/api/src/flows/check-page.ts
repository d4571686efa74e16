import type { CheckView } from '#contract/inspections';
import { Problem } from '#contract/problem';
import { findCheckHeader, listCheckRevisions } from '../inspections/check-page.store.js';
import { listCheckSubgroups } from '../inspections/check-subgroups.store.js';
import { checkView } from '../inspections/check.view.js';
import type { Tx } from '../platform/work.js';
import { checkVerdict } from './check-verdict.js';

/** Everything the page of one check shows. */
export async function checkPage(tx: Tx, plantId: number, checkId: number): Promise<Omit<CheckView, 'takenAt' | 'enteredAt' | 'voidedAt'> & { takenAt: Date; enteredAt: Date; voidedAt: Date | null }> {
  const header = await findCheckHeader(tx, plantId, checkId);
  if (!header) throw new Problem('not-found', `There is no check ${checkId}.`);
  const subgroups = await listCheckSubgroups(tx, plantId, checkId);
  const verdict = subgroups.length === 0 ? null : await checkVerdict(tx, plantId, checkId, true);
  return checkView(header, subgroups, await listCheckRevisions(tx, plantId, checkId), verdict);
}
