import { expect, it } from 'vitest';
import { faultKinds } from './fault-kinds.js';
import { openPlant, type OpenPlant, simulatePlant } from './simulate-plant.js';

const plants = Array.from({ length: 40 }, (_, i) => openPlant(i + 1)).filter((plant): plant is OpenPlant => plant !== null);

it('makes the same plant of the same seed, and another of another', () => {
  const [one, again, other] = [simulatePlant(7), simulatePlant(7), simulatePlant(8)];
  expect(one).toEqual(again);
  expect(JSON.stringify(one?.truth)).not.toBe(JSON.stringify(other?.truth));
});

it('draws every kind of fault by the weights that it states', () => {
  expect(faultKinds.reduce((sum, { weight }) => sum + weight, 0)).toBe(100);
  const kinds = new Set(plants.map(({ truth }) => truth.fault.kind.name));
  expect(kinds.size).toBeGreaterThanOrEqual(8);
});

it('lets no can come before it left the step before, nor the fault end before the complaint begins', () => {
  for (const { evidence, truth } of plants) {
    const order = evidence.line.steps.flatMap(({ id }) => truth.windows.find(({ stepId }) => stepId === id) ?? []);
    order.slice(1).forEach((window, i) => {
      expect(window.from).toBeGreaterThanOrEqual(order[i]?.from ?? 0);
      expect(window.until).toBeGreaterThanOrEqual(order[i]?.until ?? 0);
    });
    const atFault = truth.windows.find(({ stepId }) => stepId === truth.stepId);
    expect(atFault?.from ?? 0).toBeGreaterThanOrEqual(truth.fault.from);
    if (truth.fault.until !== null) expect(atFault?.until ?? 0).toBeLessThanOrEqual(truth.fault.until);
  }
});

it('counts no can at a later step that did not leave the one before it, where cans are not taken away uncounted', () => {
  let looked = 0;
  for (const { evidence, truth } of plants) {
    if (truth.counting !== 'every minute' || truth.beyond.length > 0) continue;
    const totals = evidence.line.steps.map((step) => evidence.counts.filter(({ machineId }) => step.machines.some(({ id }) => id === machineId)).reduce((sum, { good, rejected }) => ({ good: sum.good + good, entered: sum.entered + good + rejected }), { good: 0, entered: 0 })).filter(({ entered }) => entered > 0);
    totals.slice(1).forEach(({ entered }, i) => {
      looked += 1;
      // What lay between the steps when the records began may come on top: a few thousand cans at most.
      expect(entered).toBeLessThanOrEqual((totals[i]?.good ?? 0) + 20_000);
    });
    expect(evidence.counts.every(({ good, rejected }) => good >= 0 && rejected >= 0)).toBe(true);
  }
  expect(looked).toBeGreaterThan(0);
});

it('gives the tracer what a plant keeps: checks, limits, signals, log book, nothing after now', () => {
  for (const { evidence } of plants) {
    expect(evidence.streams.length).toBeGreaterThan(0);
    expect(evidence.checks.every(({ at }) => at <= evidence.now + 3_600_000)).toBe(true);
    expect(evidence.complaint.until).toBeGreaterThan(evidence.complaint.from);
    expect(new Set(evidence.streams.map(({ id }) => id)).size).toBe(evidence.streams.length);
  }
  expect(plants.some(({ evidence }) => evidence.signals.length > 0)).toBe(true);
});
