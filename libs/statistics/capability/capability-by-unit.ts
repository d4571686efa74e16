import type { ChartKind } from '../charts/limits.js';
import { type Capability, capability } from './capability.js';
import type { Specification } from './figures.js';
import { refuseClosedScale, type Scale } from './scale.js';

/** One filler head, seaming chuck, lane or machine, with its own subgroups in time order; null = missing. */
export type UnitMembers = { readonly unit: string; readonly members: readonly (readonly (number | null)[])[] };

export type CapabilityByUnit = {
  /** In the order given; null with fewer than two members, which have no spread. */
  readonly units: readonly { readonly unit: string; readonly figures: Capability | null }[];
  /**
   * All subgroups of all units together, none of them mixed of two units: sigma within is the average spread inside one
   * unit, the overall sd also holds the differences between them.
   */
  readonly pooled: Capability;
  /** The unit with the smallest Ppk; null when none has one. A customer gets cans of this one too. */
  readonly worst: { readonly unit: string; readonly ppk: number } | null;
  /** Pooled Ppk less that of the worst unit: above 0, the pooled figure hides it. */
  readonly hidden: number | null;
};

/**
 * Capability of every unit beside that of all of them pooled. A pooled index is an average over cans that nobody receives
 * on average: a bad chuck among twelve moves it little and leaks all the same. Source: common practice, no source.
 * For kind 'i-mr' no moving range is taken across two units.
 * @throws RangeError as capability(); when a unit is named twice or none is given
 */
export function capabilityByUnit(units: readonly UnitMembers[], kind: ChartKind, specification: Specification, confidence = 0.95, scale: Scale = 'open'): CapabilityByUnit {
  refuseClosedScale(scale, 'capabilityByUnit');
  if (units.length === 0) throw new RangeError('capabilityByUnit: needs at least one unit, none given');
  const names = new Set<string>();
  for (const { unit } of units) {
    if (names.has(unit)) throw new RangeError(`capabilityByUnit: needs every unit once, ${unit} given twice`);
    names.add(unit);
  }
  const own = { kind, lsl: specification.lsl, usl: specification.usl, target: specification.target, confidence };
  const figures = units.map(({ unit, members }) => ({
    unit, figures: members.flat().filter((member) => member !== null).length < 2 ? null : capability({ ...own, members }),
  }));
  // An empty subgroup between two units ends a stretch of individuals and counts for nothing elsewhere.
  const pooled = capability({ ...own, members: units.flatMap(({ members }) => [...members, []]) });
  let worst: CapabilityByUnit['worst'] = null;
  for (const { unit, figures: one } of figures) {
    const ppk = one?.ppk ?? null;
    if (ppk !== null && (worst === null || ppk < worst.ppk)) worst = { unit, ppk };
  }
  return { units: figures, pooled, worst, hidden: worst === null || pooled.ppk === null ? null : pooled.ppk - worst.ppk };
}
