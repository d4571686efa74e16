import { expect, it } from 'vitest';
import { implausible } from './plausibility.js';

const seamLength = { low: 2, high: 3.2, gaugeStep: 0.01 };

it('lets a normal reading pass, binary noise included', () => {
  expect(implausible(2.55, seamLength)).toBeNull();
  expect(implausible(0.1 + 0.2 + 2.2, seamLength)).toBeNull();
  expect(implausible(2, seamLength)).toBeNull();
});

it.each([[25.5, 2.55], [0.255, 2.55], [255, 2.55], [0.0255, 2.55]])('suggests %d was %d', (typed, meant) => {
  expect(implausible(typed, seamLength)).toEqual({ code: 'slipped-decimal', suggestion: meant });
});

it('says outside when no slip explains it', () => {
  expect(implausible(4.5, seamLength)).toEqual({ code: 'above-range', suggestion: null });
  expect(implausible(1.5, seamLength)).toEqual({ code: 'below-range', suggestion: null });
  expect(implausible(-2.55, seamLength)).toEqual({ code: 'below-range', suggestion: null });
});

it('sees a reading that the gauge cannot show', () => {
  expect(implausible(2.553, seamLength)).toEqual({ code: 'off-gauge-step', suggestion: 2.55 });
  expect(implausible(87, { low: 0, high: 100, gaugeStep: 5 })).toEqual({ code: 'off-gauge-step', suggestion: 85 });
});

it('judges only what it was told', () => {
  expect(implausible(400, { low: null, high: null, gaugeStep: null })).toBeNull();
  expect(implausible(-1, { low: 0, high: null, gaugeStep: null })).toEqual({ code: 'below-range', suggestion: null });
});

it('refuses what is not a reading or not a range', () => {
  expect(() => implausible(Number.NaN, seamLength)).toThrow(/value/);
  expect(() => implausible(1, { low: 3, high: 2, gaugeStep: null })).toThrow(/low/);
  expect(() => implausible(1, { low: 0, high: 2, gaugeStep: 0 })).toThrow(/gaugeStep/);
});
