import fc from 'fast-check';
import { expect, it } from 'vitest';
import { isoMoments } from './iso-moments.js';

it('writes every moment that there is as toISOString does, whatever comes before it', () => {
  const anyMoment = fc.oneof(fc.date({ noInvalidDate: true }).map((date) => date.getTime()), fc.integer({ min: 0, max: 253_402_300_799_999 }), fc.integer({ min: -100_000, max: 200_000_000 }));
  fc.assert(fc.property(fc.array(anyMoment), (column) => { expect(isoMoments(column)).toEqual(column.map((moment) => new Date(moment).toISOString())); }));
  const edges = [0, 86_399_999, 86_400_000, 951_782_400_000, 253_402_300_799_999, 253_402_300_800_000, -1];
  expect(isoMoments(edges)).toEqual(edges.map((moment) => new Date(moment).toISOString()));
});

it('refuses what is no moment, as toISOString does', () => {
  expect(() => isoMoments([0, Number.NaN])).toThrow(RangeError);
  expect(() => isoMoments([8.64e15 + 1])).toThrow(RangeError);
});
