import fc from 'fast-check';
import { expect, it } from 'vitest';
import published from '../../../test/published/heat-flow-meter.json' with { type: 'json' };
import { histogram } from './histogram.js';

const total = (counts: readonly number[]) => counts.reduce((sum, count) => sum + count, 0);

it('counts every value once, between the edges that are shown', () => {
  const values = fc.array(fc.integer({ min: -3000, max: 3000 }), { minLength: 1, maxLength: 120 });
  fc.assert(fc.property(values, fc.constantFrom(undefined, 0.01, 0.001, 0.25), (steps, gaugeStep) => {
    const data = Object.freeze(steps.map((step) => step * (gaugeStep ?? 0.01)));
    const { edges, counts } = histogram(data, gaugeStep);
    expect(total(counts)).toBe(data.length);
    expect(edges).toHaveLength(counts.length + 1);
    expect(counts.length).toBeLessThanOrEqual(201);
    expect(counts[0]).toBeGreaterThan(0);
    expect(counts.at(-1)).toBeGreaterThan(0);
    // Counted again from the edges alone; a value within rounding of an edge may stand on either side.
    counts.forEach((count, bin) => {
      const from = edges[bin] ?? Number.NaN;
      const to = edges[bin + 1] ?? Number.NaN;
      const slack = 1e-8 * (to - from);
      expect(count).toBeGreaterThanOrEqual(data.filter((value) => value > from + slack && value < to - slack).length);
      expect(count).toBeLessThanOrEqual(data.filter((value) => value > from - slack && value < to + slack).length);
    });
  }));
});

it('with a gauge step bins are whole steps wide and edges lie half a step off what the gauge can read', () => {
  const { edges, counts } = histogram(Object.freeze([1.2, 1.21, 1.21, 1.22, 1.23, 1.23, 1.24, 1.27]), 0.01);
  const width = (edges[1] ?? Number.NaN) - (edges[0] ?? Number.NaN);
  expect(Math.abs(width / 0.01 - Math.round(width / 0.01))).toBeLessThan(1e-9);
  expect(edges[0]).toBe(1.195);
  expect(total(counts)).toBe(8);
});

it('never makes bins finer than the gauge', () => {
  expect(histogram(Object.freeze([1, 1, 1, 2, 2, 2, 3]), 1)).toEqual({ edges: [0.5, 1.5, 2.5, 3.5], counts: [3, 3, 1] });
});

it('without a gauge step edges are round numbers (heat flow meter factors, NIST/SEMATECH e-Handbook 1.4.2.8)', () => {
  const { edges, counts } = histogram(Object.freeze([...published.values]));
  expect(edges.slice(0, 3)).toEqual([9.18, 9.2, 9.22]);
  expect(total(counts)).toBe(195);
});

it('values all alike make one bin', () => {
  expect(histogram(Object.freeze([0.3, 0.3, 0.3]), 0.1)).toEqual({ edges: [0.25, 0.35], counts: [3] });
  expect(histogram(Object.freeze([0, 0])).counts).toEqual([2]);
});

it('one wild reading does not ask for a million bins', () => {
  const values = Object.freeze([...Array.from({ length: 100 }, (_, i) => i / 100), 1e9]);
  expect(histogram(values, 0.01).counts.length).toBeLessThanOrEqual(200);
  expect(histogram(values).counts.length).toBeLessThanOrEqual(201);
  expect(total(histogram(values, 0.01).counts)).toBe(101);
});

it('refuses no values, NaN and a step that is none', () => {
  expect(() => histogram([])).toThrow('histogram: needs at least 1 value, 0 given');
  expect(() => histogram([1, Number.NaN])).toThrow('value 2 of 2 is NaN');
  for (const step of [0, -1, Number.NaN]) expect(() => histogram([1], step)).toThrow(`needs a positive gauge step, ${step} given`);
});
