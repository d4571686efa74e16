import { hash } from 'node:crypto';
import type { CheckSkip, SecondReading } from '#contract/check-extras';
import { remember } from '../platform/remember.js';
import { readingsText } from './readings-text.js';

export type SealedCheck = {
  machineId: number; productId: number; takenAt: Date; /** A person, or null and the name of the feed. */ enteredBy: number | null; feed: string | null; inspector: string;
  cans: readonly { number: number; unitId: number | null; laneId: number | null }[]; positions: readonly string[];
  skips: readonly CheckSkip[]; secondReadings: readonly SecondReading[];
};
export type SealedExtras = {
  counts: readonly { characteristicId: number; inspected: number; nonconforming: number }[];
  ratings: readonly { characteristicId: number; can: number; position: number; rating: number }[];
  /** SHA-256 of each picture, hexadecimal, in the order in which they came. */
  photos: readonly string[];
};
export type SealedSubgroup = {
  streamId: number; takenAt: Date; sequence: number; cans: readonly number[]; readings: readonly (number | null)[];
  n: number; mean: number | null; range: number | null; sd: number | null; low: number | null; high: number | null; gaugeId: number | null; formula: string | null;
};

/**
 * SHA-256 (hexadecimal) over a check, all its subgroups, counts, ratings, skips, second readings and photos as they stand. It is written into the audit row of the act that
 * stored or corrected them, and the audit rows are a chain: a reading changed past the program no longer fits its seal.
 */
export function sealCheck(check: SealedCheck, subgroups: readonly SealedSubgroup[], { counts, ratings, photos }: SealedExtras): string {
  const ordered = [...subgroups].sort((a, b) => a.streamId - b.streamId || a.takenAt.getTime() - b.takenAt.getTime() || a.sequence - b.sequence);
  const head = `[1,${check.machineId},${check.productId},${check.takenAt.getTime()},${JSON.stringify([check.enteredBy ?? check.feed, check.inspector]).slice(1, -1)},${cansText(check.cans)},${positionsText(check.positions)}`;
  const alone = check.skips.length + check.secondReadings.length + counts.length + ratings.length + photos.length === 0;
  const beside = alone ? [] : [
    check.skips.map((s) => [s.can, s.characteristic, s.position, s.reason]), check.secondReadings.map((s) => [s.characteristic, s.can, s.position, s.value]),
    [...counts].sort((a, b) => a.characteristicId - b.characteristicId).map((c) => [c.characteristicId, c.inspected, c.nonconforming]),
    [...ratings].sort((a, b) => a.characteristicId - b.characteristicId || a.can - b.can || a.position - b.position).map((r) => [r.characteristicId, r.can, r.position, r.rating]),
  ];
  // A check of readings alone has the seal that it had before checks could hold more.
  const more = [...(beside.some((part) => part.length > 0) ? beside : []), ...(photos.length > 0 ? [['photos', ...photos]] : [])];
  const end = more.length > 0 ? `,${JSON.stringify(more).slice(1)}` : ']';
  return hash('sha256', `${head},[${ordered.map(subgroupText).join(',')}]${end}`);
}

const positionsText = remember((positions: readonly string[]) => JSON.stringify(positions));
const indexesText = remember((cans: readonly number[]) => cans.join(','));
const cansText = remember((cans: SealedCheck['cans']) => JSON.stringify(cans.map((can) => [can.number, can.unitId ?? 0, can.laneId ?? 0])));

/** As JSON.stringify writes the list of its parts; put together by hand, since there are thousands in a batch and numbers are written alike. */
function subgroupText(s: SealedSubgroup): string {
  return `[${s.streamId},${s.takenAt.getTime()},${s.sequence},[${indexesText(s.cans)}],${readingsText(s.readings)},${s.n},${s.mean},${s.range},${s.sd},${s.low},${s.high},${s.gaugeId},${JSON.stringify(s.formula)}]`;
}
