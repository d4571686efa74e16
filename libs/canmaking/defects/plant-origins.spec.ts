import { expect, it } from 'vitest';
import { likelyOrigins } from './likely-origins.js';
import { plantOrigins, weightFaults } from './plant-origins.js';

it('takes the plant’s shares and keeps what the trade knows of where they show', () => {
  const origins = plantOrigins('cold-weld', [{ step: 'body-maker', units: 'lane', weight: 0.5 }, { step: 'slitter', units: 'lane', weight: 0.3 }, { step: 'flanger', units: 'unit', weight: 0.2 }]);
  expect(origins.map(({ step, weight }) => [step, weight])).toEqual([['body-maker', 0.5], ['slitter', 0.3], ['flanger', 0.2]]);
  const trade = likelyOrigins('cold-weld');
  expect(origins[0]?.characteristics).toEqual(trade.find(({ step }) => step === 'body-maker')?.characteristics);
  // The trade ties no cold weld to the flanger: its characteristics come from what else begins there.
  expect(origins[2]?.characteristics).toContain('flange-width');
});

it('scales shares typed as hundredths to 1', () => {
  const origins = plantOrigins('splash', [{ step: 'body-maker', units: 'machine', weight: 0.667 }, { step: 'slitter', units: 'lane', weight: 0.332 }]);
  expect(origins.reduce((sum, { weight }) => sum + weight, 0)).toBeCloseTo(1, 12);
});

it('names what is wrong and where', () => {
  expect(weightFaults([{ step: 'seamer', units: 'unit', weight: 0.6 }, { step: 'flanger', units: 'unit', weight: 0.3 }])).toEqual([{ place: null, expected: expect.stringContaining('add up to 0.9') }]);
  expect(weightFaults([{ step: 'seamer', units: 'unit', weight: 0.5 }, { step: 'seamer', units: 'unit', weight: 0.5 }])).toEqual([{ place: 1, expected: expect.stringContaining('twice') }]);
  expect(weightFaults([{ step: 'seamer', units: 'unit', weight: 0 }, { step: 'flanger', units: 'unit', weight: 1 }])).toEqual([{ place: 0, expected: expect.stringContaining('above 0') }]);
  expect(weightFaults([{ step: 'kiln', units: 'unit', weight: 1 }])).toEqual([{ place: 0, expected: expect.stringContaining('a kind of step (slitter, ') }]);
  expect(weightFaults([])).toEqual([{ place: null, expected: expect.stringContaining('add up to 0') }]);
  expect(() => plantOrigins('splash', [{ step: 'seamer', units: 'unit', weight: Number.NaN }])).toThrow(/weights: needs/);
});
