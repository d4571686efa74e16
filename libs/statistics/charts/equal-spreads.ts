import { chiSquareUpperTail } from '../distributions/gamma.js';

export type EqualSpreads = { readonly statistic: number; readonly freedom: number; readonly p: number };

/**
 * Bartlett's test that groups have one variance, from their sds and degrees of freedom.
 * With s_p the pooled sd: statistic = [nu ln s_p^2 - sum nu_i ln s_i^2] / [1 + (sum 1/nu_i - 1/nu)/(3(k-1))], referred
 * to chi-square with k-1 degrees of freedom. Degrees of freedom are given, not counted, so that sds pooled within
 * subgroups can be compared. It takes a long tail for a difference: readings far from normal make it too ready.
 * Source: Bartlett 1937, Proceedings of the Royal Society A 160; NIST/SEMATECH e-Handbook 1.3.5.7.
 * @param groups sd above 0 in any one unit, degrees of freedom above 0
 * @throws RangeError under two groups, or when an sd or its degrees of freedom are not positive and finite (1-based position)
 */
export function equalSpreads(groups: readonly { readonly sd: number; readonly freedom: number }[]): EqualSpreads {
  const [first] = groups;
  if (first === undefined || groups.length < 2) throw new RangeError(`equalSpreads: needs at least 2 groups, ${groups.length} given`);
  groups.forEach(({ sd, freedom }, index) => {
    if (!(sd > 0 && freedom > 0 && Number.isFinite(sd) && Number.isFinite(freedom))) {
      throw new RangeError(`equalSpreads: needs a positive sd and positive degrees of freedom, group ${index + 1} has ${sd} and ${freedom}`);
    }
  });
  const nu = groups.reduce((sum, { freedom }) => sum + freedom, 0);
  // Relative to the largest sd: the statistic does not depend on the unit, and no square overflows.
  const largest = groups.reduce((most, { sd }) => Math.max(most, sd), 0);
  const pooled = groups.reduce((sum, { sd, freedom }) => sum + (freedom / nu) * (sd / largest) ** 2, 0);
  const logs = groups.reduce((sum, { sd, freedom }) => sum + freedom * (Math.log(pooled) - 2 * (Math.log(sd) - Math.log(largest))), 0);
  const inverse = groups.reduce((sum, { freedom }) => sum + 1 / freedom, 0) - 1 / nu;
  const freedom = groups.length - 1;
  const statistic = Math.max(0, logs) / (1 + inverse / (3 * freedom));
  return { statistic, freedom, p: chiSquareUpperTail(statistic, freedom) };
}
