import { deletableKind, type RetentionRule, type RetentionView } from '#contract/retention';
import type { Tx } from '../platform/work.js';
import { countPastRecords } from './retention-records.store.js';
import { countPast, listActs, listLegalHolds, listRules } from './retention.store.js';

/** So many checks go in one act at most: its audit row names each. */
export const MOST_IN_ACT = 5000;

/** The rule in force; null where the kind is kept for ever. */
export const ruleOf = (rules: readonly RetentionRule[], kind: RetentionRule['kind']): RetentionRule | null => rules.find((rule) => rule.kind === kind) ?? null;

/** Checks taken before this are past a retention of so many years: whole days in UTC, so that what was listed stays what it was for the day. */
export function pastBefore(years: number, now: Date): Date {
  if (!Number.isInteger(years) || years < 1) throw new RangeError(`years: needs a whole number of at least 1, ${years} given`);
  return new Date(Date.UTC(now.getUTCFullYear() - years, now.getUTCMonth(), now.getUTCDate()));
}

export async function retentionView(tx: Tx, plantId: number, now: Date): Promise<RetentionView> {
  const rules = await listRules(tx, plantId);
  const rule = ruleOf(rules, 'check');
  const takenBefore = rule && pastBefore(rule.years, now);
  const counted = takenBefore && (await countPast(tx, plantId, takenBefore));
  const pastRecords: RetentionView['pastRecords'] = [];
  for (const kind of deletableKind.options) {
    const own = ruleOf(rules, kind);
    if (!own) continue;
    const madeBefore = pastBefore(own.years, now);
    const found = await countPastRecords(tx, plantId, kind, madeBefore);
    pastRecords.push({ kind, madeBefore: madeBefore.toISOString(), records: found.records, kept: found.kept, oldest: found.oldest?.toISOString() ?? null, newest: found.newest?.toISOString() ?? null });
  }
  return {
    rules, pastRecords, holds: await listLegalHolds(tx, plantId), acts: await listActs(tx, plantId),
    past: takenBefore && counted ? { takenBefore: takenBefore.toISOString(), checks: counted.checks, kept: counted.kept, oldest: counted.oldest?.toISOString() ?? null, newest: counted.newest?.toISOString() ?? null, most: MOST_IN_ACT } : null,
  };
}
