import type { LimitsView } from '#contract/specifications';
import { limitsForSize, type LimitsBasis } from '#statistics/charts/limits';

/** The lines that frozen limits give for each subgroup size, smallest first. */
export function linesBySize(basis: LimitsBasis, sizes: readonly number[]): LimitsView['bySize'] {
  return [...new Set(sizes)].sort((a, b) => a - b).map((n) => {
    const { mean, spread } = limitsForSize(basis, n);
    return { n, mean, spread };
  });
}
