export type FalseDiscovery = 'benjamini-hochberg' | 'benjamini-yekutieli' | 'holm';

/**
 * p of many comparisons, adjusted so that calling those at or below q discoveries keeps the expected share of false ones at
 * q (Benjamini & Hochberg 1995, JRSS B 57, for independent or positively dependent tests; Benjamini & Yekutieli 2001,
 * Annals of Statistics 29, whatever the dependence), or the chance of any false one (Holm 1979, Scandinavian Journal of Statistics 6).
 * @param ps of the comparisons, in any order; the adjusted ones come in the same order
 * @throws RangeError when empty or a p is outside 0 to 1 (1-based position is named)
 */
export function adjustForMany(ps: readonly number[], method: FalseDiscovery = 'benjamini-hochberg'): number[] {
  if (ps.length === 0) throw new RangeError('adjustForMany: needs at least 1 p, 0 given');
  ps.forEach((p, i) => {
    if (!(p >= 0 && p <= 1)) throw new RangeError(`adjustForMany: needs ps from 0 to 1, ${p} given at ${i + 1}`);
  });
  const n = ps.length;
  const order = Array.from(ps.keys()).sort((a, b) => (ps[a] as number) - (ps[b] as number));
  const adjusted = new Array<number>(n).fill(1);
  if (method === 'holm') {
    let most = 0;
    order.forEach((place, rank) => {
      most = Math.max(most, Math.min(1, (n - rank) * (ps[place] as number)));
      adjusted[place] = most;
    });
    return adjusted;
  }
  const factor = method === 'benjamini-yekutieli' ? ps.reduce((sum, _p, i) => sum + 1 / (i + 1), 0) : 1;
  let least = 1;
  for (let rank = n - 1; rank >= 0; rank -= 1) {
    const place = order[rank] as number;
    least = Math.min(least, Math.min(1, (factor * n * (ps[place] as number)) / (rank + 1)));
    adjusted[place] = least;
  }
  return adjusted;
}
