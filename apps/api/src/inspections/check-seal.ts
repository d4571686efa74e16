import { createHash } from 'node:crypto';

export type SealedCheck = {
  machineId: number; productId: number; takenAt: Date; /** A person, or null and the name of the feed. */ enteredBy: number | null; feed: string | null; inspector: string;
  cans: readonly { number: number; unitId: number | null; laneId: number | null }[]; positions: readonly string[];
};
export type SealedSubgroup = {
  streamId: number; takenAt: Date; sequence: number; cans: readonly number[]; readings: readonly (number | null)[];
  n: number; mean: number | null; range: number | null; sd: number | null; low: number | null; high: number | null; gaugeId: number | null; formula: string | null;
};

/**
 * SHA-256 (hexadecimal) over a check and all its subgroups as they stand. It is written into the audit row of the act that
 * stored or corrected them, and the audit rows are a chain: a reading changed past the program no longer fits its seal.
 */
export function sealCheck(check: SealedCheck, subgroups: readonly SealedSubgroup[]): string {
  const ordered = [...subgroups].sort((a, b) => a.streamId - b.streamId || a.takenAt.getTime() - b.takenAt.getTime() || a.sequence - b.sequence);
  const content = [
    1, check.machineId, check.productId, check.takenAt.getTime(), check.enteredBy ?? check.feed, check.inspector,
    check.cans.map((can) => [can.number, can.unitId ?? 0, can.laneId ?? 0]), check.positions,
    ordered.map((s) => [s.streamId, s.takenAt.getTime(), s.sequence, s.cans, s.readings, s.n, s.mean, s.range, s.sd, s.low, s.high, s.gaugeId, s.formula]),
  ];
  return createHash('sha256').update(JSON.stringify(content)).digest('hex');
}
