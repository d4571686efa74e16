import { limitsForSize } from '#statistics/charts/limits';
import type { CheckVerdict, SubgroupVerdict } from '#contract/inspections';
import { Problem } from '#contract/problem';
import { findCheckHeader } from '../inspections/check-page.store.js';
import { listCheckSubgroups } from '../inspections/check-subgroups.store.js';
import type { Tx } from '../platform/work.js';

/** What the rules said of a stored check, read back from what the transaction stored: a repeat answers the same. */
export async function checkVerdict(tx: Tx, plantId: number, checkId: number, repeated: boolean): Promise<CheckVerdict> {
  const rows = await listCheckSubgroups(tx, plantId, checkId);
  // Counts and ratings have no subgroups: such a check is there, and nothing of it is judged. One that was taken back is not.
  const header = rows.length === 0 ? await findCheckHeader(tx, plantId, checkId) : undefined;
  if (header === null || header?.voidedAt) throw new Problem('not-found', `There is no check ${checkId}.`);
  const subgroups = rows.map((row): SubgroupVerdict => {
    const limits = row.limits && row.mean !== null ? limitsForSize(row.limits, Math.max(1, row.n)) : null;
    return {
      streamId: row.streamId, characteristic: row.characteristic, characteristicName: row.characteristicName, unit: row.unit, decimals: row.decimals,
      machineUnit: row.machineUnit, lane: row.lane, takenAt: row.takenAt, sequence: row.sequence,
      n: row.n, mean: row.mean, range: row.range, sd: row.sd, low: row.low, high: row.high, formula: row.formula,
      limits: limits && row.limits ? { id: row.limits.id, lower: limits.mean.lower, centre: limits.mean.centre, upper: limits.mean.upper } : null,
      status: limits === null ? 'not-judged' : row.firings.length > 0 ? 'signal' : 'steady',
      firings: row.firings,
      outsideSpecification: row.readings.filter((reading) => reading !== null && ((row.lsl !== null && reading < row.lsl) || (row.usl !== null && reading > row.usl))).length,
    };
  });
  const status = subgroups.some((entry) => entry.status === 'signal') ? 'signal' : subgroups.length > 0 && subgroups.every((entry) => entry.status === 'steady') ? 'steady' : 'not-judged';
  return { checkId, repeated, status, subgroups };
}
