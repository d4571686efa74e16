import { seedCharacteristics } from './characteristics.js';
import type { Effect, FaultTruth } from './faults.js';
import type { SeedCheckPlan } from './plant-types.js';
import { variationOf } from './process.js';
import { createRandom, type Random } from './random.js';
import type { SimulatedCheck } from './simulated.js';

/** A fault with its span in epoch milliseconds; `until` is the end of the scenario for an open one. */
export type TimedFault = { truth: FaultTruth; from: number; until: number };

type Place = { seed: number; plan: SeedCheckPlan; takenAt: number; cans: SimulatedCheck['cans'] };

/** Readings of one characteristic: can by can, position by position, as the gauge shows them. */
export function simulateReadings(
  random: Random, { seed, plan, takenAt, cans }: Place, characteristicCode: string, faults: readonly TimedFault[],
): number[] {
  const variation = variationOf(plan.productCode, characteristicCode);
  const characteristic = seedCharacteristics.find(({ code }) => code === characteristicCode);
  if (characteristic === undefined) throw new RangeError(`unknown characteristic ${characteristicCode}`);
  const active = faults.filter(({ from, until }) => takenAt >= from && takenAt < until);
  // Where the row of consecutive bodies begins in the cycle of slitter lanes is chance.
  const cyclePhase = random.whole(60);
  return cans.flatMap(({ unitCode, laneCode }, canIndex) => {
    const canLevel = variation.mean + placeOffset(seed, plan.machineCode, unitCode ?? laneCode ?? '', characteristicCode, variation.unit)
      + variation.can * random.normal();
    return plan.positions.map((position) => {
      const shift = active.reduce((sum, fault) => sum + effectOf(fault, takenAt, {
        machineCode: plan.machineCode, unitCode, laneCode, characteristicCode, position, bodyInCycle: (canIndex % plan.cans) + cyclePhase,
      }), 0);
      const seen = canLevel + (variation.positionOffsets?.[position] ?? 0) + shift + variation.within * random.normal() + variation.gauge * random.normal();
      const onStep = Number((Math.round(seen / characteristic.gaugeStep) * characteristic.gaugeStep).toFixed(characteristic.decimals));
      // Only a percentage has an end that ordinary readings reach.
      return characteristic.unit === '%' ? Math.min(100, Math.max(0, onStep)) : onStep;
    });
  });
}

// Cut at 1.8 sigma: a head that stands further off would have been set again before the records begin.
function placeOffset(seed: number, machineCode: string, place: string, characteristicCode: string, sigma: number): number {
  const deviate = createRandom(seed, `place/${machineCode}/${place}/${characteristicCode}`).normal();
  return sigma * Math.min(1.8, Math.max(-1.8, deviate));
}

type Spot = {
  machineCode: string; unitCode: string | null; laneCode: string | null; characteristicCode: string; position: string; bodyInCycle: number;
};

function effectOf({ truth, from, until }: TimedFault, takenAt: number, spot: Spot): number {
  if (truth.machineCode !== spot.machineCode) return 0;
  if (truth.laneCode !== undefined && truth.laneCode !== spot.laneCode) return 0;
  if (truth.unitCodes !== undefined && (spot.unitCode === null || !truth.unitCodes.includes(spot.unitCode))) return 0;
  return truth.effects.reduce((sum, effect) => sum + (applies(effect, spot) ? effect.size * grown(effect, (takenAt - from) / (until - from)) : 0), 0);
}

const applies = (effect: Effect, spot: Spot) =>
  effect.characteristicCode === spot.characteristicCode
  && (effect.positions === undefined || effect.positions.includes(spot.position))
  && (effect.everyNthCan === undefined || spot.bodyInCycle % effect.everyNthCan === 0);

const grown = (effect: Effect, share: number) => (effect.shape === 'step' ? 1 : share);
