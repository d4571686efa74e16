import { expect, it } from 'vitest';
import { trialOrder } from './trial-order.js';

const plan = { people: 3, parts: 10, repeats: 3, nested: false, seed: 20261126 };
const key = ({ person, part, repeat }: { person: number; part: number; repeat: number }) => `${person} ${part} ${repeat}`;

it('lets everybody measure every part once a round', () => {
  const trials = trialOrder(plan);
  expect(new Set(trials.map(key)).size).toBe(90);
  for (let repeat = 0; repeat < 3; repeat += 1) expect(trials.slice(repeat * 30, (repeat + 1) * 30).every((trial) => trial.repeat === repeat)).toBe(true);
});

it('gives the same order for the same seed and another for another', () => {
  expect(trialOrder(plan)).toEqual(trialOrder(plan));
  expect(trialOrder({ ...plan, seed: 7 }).map(key)).not.toEqual(trialOrder(plan).map(key));
});

it('never gives a person the same part twice in a row, over many seeds and few parts', () => {
  for (let seed = 0; seed < 300; seed += 1) {
    for (const person of [0, 1]) {
      const parts = trialOrder({ people: 2, parts: 2, repeats: 4, nested: false, seed }).filter((trial) => trial.person === person).map(({ part }) => part);
      expect(parts.some((part, i) => part === parts[i + 1])).toBe(false);
    }
  }
});

it('uses every order of three parts about equally often', () => {
  const seen = new Map<string, number>();
  for (let seed = 0; seed < 6000; seed += 1) {
    const order = trialOrder({ people: 1, parts: 3, repeats: 1, nested: false, seed }).map(({ part }) => part).join('');
    seen.set(order, (seen.get(order) ?? 0) + 1);
  }
  expect(seen.size).toBe(6);
  // 1000 expected each, sd 29: five of them each way.
  for (const times of seen.values()) expect(Math.abs(times - 1000)).toBeLessThan(150);
});

it('deals nested parts out, each to one person', () => {
  const trials = trialOrder({ people: 3, parts: 6, repeats: 2, nested: true, seed: 4 });
  const owners = new Map<number, Set<number>>();
  for (const { person, part } of trials) owners.set(part, (owners.get(part) ?? new Set()).add(person));
  expect([...owners.values()].every((people) => people.size === 1)).toBe(true);
  expect([0, 1, 2].map((person) => trials.filter((trial) => trial.person === person).length)).toEqual([4, 4, 4]);
});

it('refuses what makes no plan', () => {
  expect(() => trialOrder({ ...plan, people: 0 })).toThrow('needs a whole number of people above 0, 0 given');
  expect(() => trialOrder({ ...plan, seed: 0.5 })).toThrow('needs a whole seed, 0.5 given');
  expect(() => trialOrder({ ...plan, parts: 7, nested: true })).toThrow('needs as many parts for each of 3 people, 7 given');
});
