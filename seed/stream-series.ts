import { deriveReading, type FormulaId } from '#canmaking/seam/derive';
import { baselineLimits, type LimitsBasis } from '#statistics/charts/limits';
import { chartedMembers, subgroupStatistics, type SubgroupStatistics } from '#statistics/charts/subgroup';
import { seedPlant } from './plant.js';
import type { SeedCharacteristic, SeedCheckPlan } from './plant-types.js';
import type { SimulatedCheck, SimulatedPlant } from './simulated.js';

export type StreamSeries = {
  key: string; machineCode: string; unitCode: string | null; laneCode: string | null; characteristic: SeedCharacteristic;
  points: { takenAt: number; statistics: SubgroupStatistics }[];
};

/**
 * The scenario's checks as the series that charts show, derived figures included. For specs and for looking at the
 * scenario without a database; the server forms its own subgroups from the same readings.
 */
export function streamSeries({ checks }: Pick<SimulatedPlant, 'checks'>): Map<string, StreamSeries> {
  const series = new Map<string, StreamSeries>();
  for (const check of checks) {
    const plan = seedPlant.checkPlans.find(({ code }) => code === check.planCode);
    if (plan === undefined) throw new RangeError(`unknown plan ${check.planCode}`);
    for (const code of [...plan.characteristics, ...plan.derived]) addCheck(series, check, plan, code);
  }
  return series;
}

/** Limits frozen from the subgroups before `baselineEndsAt`. */
export function frozenLimits({ characteristic, points }: StreamSeries, baselineEndsAt: number): LimitsBasis {
  return baselineLimits(characteristic.chartKind, points.filter(({ takenAt }) => takenAt < baselineEndsAt).map(({ statistics }) => statistics));
}

function addCheck(series: Map<string, StreamSeries>, check: SimulatedCheck, plan: SeedCheckPlan, code: string): void {
  const characteristic = seedPlant.characteristics.find((candidate) => candidate.code === code);
  if (characteristic === undefined) throw new RangeError(`unknown characteristic ${code}`);
  const members = chartedMembers(readingsOf(check, characteristic.formula, code), plan.positions.length, characteristic.basis);
  const places = new Map<string, (number | null)[]>();
  check.cans.forEach(({ unitCode, laneCode }, index) => {
    const place = `${unitCode ?? ''}|${laneCode ?? ''}`;
    places.set(place, [...(places.get(place) ?? []), members[index] ?? null]);
  });
  for (const [place, values] of places) {
    const key = `${check.machineCode}|${place}|${code}`;
    const [unitCode = '', laneCode = ''] = place.split('|');
    const stream: StreamSeries = series.get(key) ?? {
      key, machineCode: check.machineCode, unitCode: unitCode === '' ? null : unitCode, laneCode: laneCode === '' ? null : laneCode, characteristic, points: [],
    };
    stream.points.push({ takenAt: check.takenAt, statistics: subgroupStatistics(values) });
    series.set(key, stream);
  }
}

function readingsOf(check: SimulatedCheck, formula: FormulaId | null, code: string): (number | null)[] {
  if (formula === null) return check.readings[code] ?? [];
  const product = seedPlant.products.find((candidate) => candidate.code === check.productCode);
  if (product === undefined) throw new RangeError(`unknown product ${check.productCode}`);
  const points = check.cans.length * check.positions.length;
  return Array.from({ length: points }, (_, index) => {
    const inputs = Object.fromEntries(Object.entries(check.readings).map(([input, values]) => [input, values[index] ?? null]));
    const derived = deriveReading(formula, inputs, product, product.overlapFactor);
    return derived !== null && 'value' in derived ? derived.value : null;
  });
}
