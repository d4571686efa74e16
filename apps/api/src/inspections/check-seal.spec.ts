import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { type SealedCheck, type SealedExtras, type SealedSubgroup, sealCheck } from './check-seal.js';

const check: SealedCheck = { machineId: 3, productId: 5, takenAt: new Date('2025-03-01T08:00:00Z'), enteredBy: 7, feed: null, inspector: 'A "B" \\ ü', cans: [{ number: 1, unitId: null, laneId: 2 }], positions: ['60°', 'a,b'], skips: [], secondReadings: [] };
const none: SealedExtras = { counts: [], ratings: [], photos: [] };
const sha = (content: unknown) => createHash('sha256').update(JSON.stringify(content)).digest('hex');
const listed = (s: SealedSubgroup) => [s.streamId, s.takenAt.getTime(), s.sequence, s.cans, s.readings, s.n, s.mean, s.range, s.sd, s.low, s.high, s.gaugeId, s.formula];
const head = [1, 3, 5, 1740816000000, 7, 'A "B" \\ ü', [[1, 0, 2]], ['60°', 'a,b']];

// The form of a seal never changes: those that are stored would no longer fit.
it('is the SHA-256 of the JSON of all parts, in the order of streams', () => {
  const number = fc.option(fc.double({ noNaN: true, noDefaultInfinity: true }));
  const subgroup: fc.Arbitrary<SealedSubgroup> = fc.record({
    streamId: fc.integer({ min: 1, max: 9 }), takenAt: fc.constant(check.takenAt), sequence: fc.integer({ min: 1, max: 3 }), cans: fc.array(fc.nat(9)), readings: fc.array(number, { maxLength: 12 }),
    n: fc.nat(12), mean: number, range: number, sd: number, low: number, high: number, gaugeId: fc.option(fc.nat()), formula: fc.option(fc.string()),
  });
  fc.assert(fc.property(fc.uniqueArray(subgroup, { maxLength: 5, selector: (s) => `${s.streamId}/${s.sequence}` }), (subgroups) => {
    const ordered = [...subgroups].sort((a, b) => a.streamId - b.streamId || a.sequence - b.sequence);
    expect(sealCheck(check, subgroups, none)).toBe(sha([...head, ordered.map(listed)]));
  }));
});

it('holds counts, ratings, skips, second readings and photos, and leaves them out where there are none', () => {
  const extras: SealedExtras = { counts: [{ characteristicId: 2, inspected: 5, nonconforming: 1 }], ratings: [{ characteristicId: 4, can: 1, position: 0, rating: 3 }, { characteristicId: 4, can: 0, position: 0, rating: 1 }], photos: [] };
  expect(sealCheck(check, [], extras)).toBe(sha([...head, [], [], [], [[2, 5, 1]], [[4, 0, 0, 1], [4, 1, 0, 3]]]));
  expect(sealCheck({ ...check, enteredBy: null, feed: 'Gauge 1' }, [], none)).toBe(sha([...head.map((part) => (part === 7 ? 'Gauge 1' : part)), []]));
  const photos = ['a1', 'b2'];
  expect(sealCheck(check, [], { ...none, photos })).toBe(sha([...head, [], ['photos', ...photos]]));
  expect(sealCheck(check, [], { ...extras, photos })).toBe(sha([...head, [], [], [], [[2, 5, 1]], [[4, 0, 0, 1], [4, 1, 0, 3]], ['photos', ...photos]]));
});
