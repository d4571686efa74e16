import { varianceComponents } from '#statistics/choosing/variance-components';
import { mean } from '#statistics/numeric/mean';
import { standardDeviation } from '#statistics/numeric/standard-deviation';
import type { VariationComponent, VariationSource } from '#contract/planner';

/** The readings of one check, can by can and position by position. */
export type CheckReadings = { readings: readonly (number | null)[]; positions: number };
export type PartedVariation = { cans: number; readings: number; mean: number | null; components: VariationComponent[]; refusal: 'too-little-data' | 'cannot-compute' | null };

/**
 * Parts the readings of a stream into what differs between checks, between cans of a check and between positions of a
 * can. Sources that these readings cannot tell apart stay together: cans of checks with one can each, positions of cans
 * with one position each.
 */
export function partVariation(checks: readonly CheckReadings[]): PartedVariation {
  const rows = checks.flatMap(({ readings, positions }, check) => readings.flatMap((value, place) => (value === null ? [] : [{ value, check, can: `${check}/${Math.floor(place / positions)}` }])));
  const values = rows.map(({ value }) => value);
  const [checkCount, canCount] = [new Set(rows.map(({ check }) => check)).size, new Set(rows.map(({ can }) => can)).size];
  const counted = { cans: canCount, readings: rows.length, mean: rows.length === 0 ? null : mean(values) };
  if (checkCount < 2) return { ...counted, components: [], refusal: 'too-little-data' };
  const levels: { sources: VariationSource[]; labels: (number | string)[] }[] = [{ sources: ['check'], labels: rows.map(({ check }) => check) }];
  const inner = new Set<VariationSource>(['can', 'position']);
  const positionsTold = rows.length > canCount;
  if (positionsTold && canCount > checkCount) levels.push({ sources: ['can'], labels: rows.map(({ can }) => can) });
  else if (positionsTold) levels[0]?.sources.push('can');
  for (const { sources } of levels) for (const source of sources) inner.delete(source);
  try {
    // One reading a check tells nothing apart: its variance is that of all sources together.
    if (rows.length === checkCount) return { ...counted, components: [single(values)], refusal: null };
    const { components } = varianceComponents({ names: levels.map(({ sources }) => sources.join('-')), labels: levels.map(({ labels }) => labels), values });
    return {
      ...counted, refusal: null,
      components: components.map(({ raw, variance, share, groups, df, interval }, level) => ({ sources: levels[level]?.sources ?? [...inner], raw, variance, share, groups, df, interval })),
    };
  } catch (error) {
    if (error instanceof RangeError) return { ...counted, components: [], refusal: 'cannot-compute' };
    throw error;
  }
}

function single(values: readonly number[]): VariationComponent {
  const variance = standardDeviation(values) ** 2;
  return { sources: ['check', 'can', 'position'], raw: variance, variance, share: variance > 0 ? 1 : null, groups: values.length, df: values.length - 1, interval: null };
}
