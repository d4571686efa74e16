import type { IncidentPareto } from '#contract/incident-life';
import type { ParetoGroup } from './pareto.store.js';

/**
 * Bars with each one's share and the share of all bars so far, largest first (months in their order): the vital few
 * stand in front. Source: Juran, Quality Control Handbook, "the vital few" (from memory).
 * Shares are 0 to 1 of what is weighed; all 0 where nothing is (in-house findings complain of no can).
 */
export function paretoBars(groups: readonly ParetoGroup[], by: IncidentPareto['by'], weight: IncidentPareto['weight']): IncidentPareto['bars'] {
  const weighed = (group: ParetoGroup): number => (weight === 'cans' ? group.cansComplained : group.incidents);
  const total = groups.reduce((sum, group) => sum + weighed(group), 0);
  const label = (group: ParetoGroup) => group.value ?? '';
  const sorted = [...groups].sort((a, b) => (by === 'month' ? label(a).localeCompare(label(b)) : weighed(b) - weighed(a) || b.incidents - a.incidents || label(a).localeCompare(label(b))));
  let soFar = 0;
  return sorted.map((group) => {
    soFar += weighed(group);
    return { value: group.value, name: group.name ?? group.value ?? '', incidents: group.incidents, cansComplained: group.cansComplained, share: total === 0 ? 0 : weighed(group) / total, cumulative: total === 0 ? 0 : soFar / total };
  });
}
