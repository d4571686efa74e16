import { Problem } from '#contract/problem';
import { findTransitFromWeld, listCounts, listRatings } from '../inspections/check-extras.store.js';
import { listCheckPhotos } from '../inspections/check-photos.store.js';
import { findCheckHeader, listCheckRevisions } from '../inspections/check-page.store.js';
import { listCheckSubgroups } from '../inspections/check-subgroups.store.js';
import { type CheckPage, checkView } from '../inspections/check.view.js';
import type { Tx } from '../platform/work.js';
import { checkVerdict } from './check-verdict.js';

/** Everything the page of one check shows. */
export async function checkPage(tx: Tx, plantId: number, checkId: number): Promise<CheckPage> {
  const header = await findCheckHeader(tx, plantId, checkId);
  if (!header) throw new Problem('not-found', `There is no check ${checkId}.`);
  const subgroups = await listCheckSubgroups(tx, plantId, checkId);
  const verdict = subgroups.length === 0 ? null : await checkVerdict(tx, plantId, checkId, true);
  const extras = { counts: await listCounts(tx, plantId, checkId), rated: await listRatings(tx, plantId, checkId), photos: await listCheckPhotos(tx, plantId, checkId), transit: await findTransitFromWeld(tx, plantId, header.machineId) };
  return checkView(header, subgroups, await listCheckRevisions(tx, plantId, checkId), extras, verdict);
}
