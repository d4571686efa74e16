import { expect, it } from 'vitest';
import { specificationOfPeriod } from './specification-of-period.js';

const day = (n: number) => new Date(Date.UTC(2026, 2, n));
const revision = (id: number, n: number) => ({ id, effectiveFrom: day(n) });
const ids = (all: { id: number }[]) => all.map(({ id }) => id);

it('leaves out what had been replaced before the period', () => {
  const got = specificationOfPeriod([revision(1, 1), revision(2, 5)], day(10));
  expect([ids(got.inForce), got.used?.id, got.fromTheStart]).toEqual([[2], 2, true]);
});

it('lists a change within the period and takes the latest', () => {
  const got = specificationOfPeriod([revision(1, 1), revision(2, 5), revision(3, 12)], day(10));
  expect([ids(got.inForce), got.used?.id, got.fromTheStart]).toEqual([[2, 3], 3, true]);
});

it('one that begins with the period holds from its start; of two with one beginning the later holds', () => {
  expect(ids(specificationOfPeriod([revision(1, 1), revision(2, 10)], day(10)).inForce)).toEqual([2]);
  expect(ids(specificationOfPeriod([revision(1, 1), revision(2, 12), revision(3, 12)], day(10)).inForce)).toEqual([1, 3]);
});

it('says when none was in force yet', () => {
  expect(specificationOfPeriod([revision(1, 12)], day(10))).toMatchObject({ used: { id: 1 }, fromTheStart: false });
  expect(specificationOfPeriod([], day(10))).toEqual({ inForce: [], used: null, fromTheStart: false });
});
