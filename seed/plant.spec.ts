import { expect, it } from 'vitest';
import { formulas } from '#canmaking/seam/derive';
import { stepOrder } from '#canmaking/line/steps';
import { seedPlant } from './plant.js';
import { variationOf } from './process.js';

const codes = (items: readonly { code: string }[]) => items.map(({ code }) => code);
const machines = seedPlant.lines.flatMap((line) => line.steps.flatMap((step) => step.machines));

it('uses each code once', () => {
  for (const list of [seedPlant.lines, seedPlant.products, seedPlant.characteristics, seedPlant.gauges, seedPlant.checkPlans, machines]) {
    expect(new Set(codes(list)).size).toBe(list.length);
  }
  expect(new Set(seedPlant.users.map(({ login }) => login)).size).toBe(seedPlant.users.length);
  expect(new Set(seedPlant.users.map(({ role }) => role)).size).toBe(6);
});

it('stands in process order', () => {
  for (const { steps } of seedPlant.lines) {
    const orders = steps.map(({ kind }) => stepOrder(kind));
    expect(orders).toEqual([...orders].sort((a, b) => a - b));
  }
});

it('plans only what exists, with a gauge of the right resolution for each measured characteristic', () => {
  for (const plan of seedPlant.checkPlans) {
    expect(codes(machines)).toContain(plan.machineCode);
    for (const code of plan.characteristics) {
      const characteristic = seedPlant.characteristics.find((candidate) => candidate.code === code);
      const gauge = seedPlant.gauges.find((candidate) => candidate.code === plan.gaugeByCharacteristic[code]);
      expect(characteristic?.formula, code).toBeNull();
      expect(gauge?.resolution, code).toBe(characteristic?.gaugeStep);
      expect(gauge?.unit, code).toBe(characteristic?.unit);
    }
    for (const code of plan.derived) {
      const formula = seedPlant.characteristics.find((candidate) => candidate.code === code)?.formula ?? null;
      if (formula === null) throw new Error(`${code} has no formula`);
      for (const input of formulas[formula].inputs) expect(plan.characteristics).toContain(input);
    }
  }
});

it('specifies every characteristic of every product, with the process inside', () => {
  for (const product of seedPlant.products) {
    for (const characteristic of seedPlant.characteristics) {
      const found = seedPlant.specifications.filter((row) => row.productCode === product.code && row.characteristicCode === characteristic.code);
      expect(found, `${product.code} ${characteristic.code}`).toHaveLength(1);
      const [{ lsl, usl } = { lsl: null, usl: null }] = found;
      expect(lsl !== null || usl !== null).toBe(true);
      if (characteristic.formula !== null) continue;
      const { mean } = variationOf(product.code, characteristic.code);
      if (lsl !== null) expect(mean).toBeGreaterThan(lsl);
      if (usl !== null) expect(mean).toBeLessThan(usl);
      if (characteristic.plausibleLow !== null && lsl !== null) expect(characteristic.plausibleLow).toBeLessThan(lsl);
      if (characteristic.plausibleHigh !== null && usl !== null) expect(characteristic.plausibleHigh).toBeGreaterThan(usl);
    }
  }
});
