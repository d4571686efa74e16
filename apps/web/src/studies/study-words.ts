import type { TFunction } from 'i18next';
import type { CapabilityEntry } from '#contract/studies';
import type { State } from '../shared/state-badge.js';

type Words = TFunction<'studies'>;

/** Which stream a row is of. */
export function rowName(t: Words, { unit, lane, streamId }: Pick<CapabilityEntry, 'unit' | 'lane' | 'streamId'>): string {
  if (streamId === null) return t('row.pooled');
  if (unit && lane) return t('row.both', { unit: unit.code, lane: lane.code });
  if (unit) return t('row.unit', { unit: unit.code });
  return lane ? t('row.lane', { lane: lane.code }) : t('row.whole');
}

export const STABILITY_STATES: Record<CapabilityEntry['stability']['state'], State> = { stable: 'steady', 'not-stable': 'signal', 'not-judged': 'not-judged' };

export const rowKey = (entry: CapabilityEntry): number | 'pooled' => entry.streamId ?? 'pooled';

/** Digits for a mean or a sigma: two more than a reading shows, since they are averages. */
export const fineDecimals = (decimals: number): number => decimals + 2;

/** Six whole digits need no decimals, a few ppm need them. */
export const ppmDecimals = (ppm: number): number => (ppm >= 100 ? 0 : 2);
