import fc from 'fast-check';
import { expect, it } from 'vitest';
import { linesWithVersions, piecesOf } from './pattern-versions.js';

const changed = (pattern: string, other: string) => piecesOf(pattern, other).filter(({ differs }) => differs).map(({ text }) => text);

it('marks the pieces of a pattern that the other version has not', () => {
  expect(changed('{line} {year:2}{day-of-year} {hour}{minute}', '{line} {year:2}{day-of-year} {hour}{minute} {lane}')).toEqual([]);
  expect(changed('{line} {year:2}{day-of-year} {hour}{minute} {lane}', '{line} {year:2}{day-of-year} {hour}{minute}')).toEqual([' ', '{lane}']);
  expect(changed('{line}{year:2}{day-of-year}', '{line}{year:4}{day-of-year}')).toEqual(['{year:2}']);
  expect(changed('{hour}{line}', '{line}{hour}')).toHaveLength(1);
  expect(changed('{day-of-year}', '{day-of-year}')).toEqual([]);
});

it('keeps every piece, and marks none of a pattern beside itself', () => {
  const pattern = fc.array(fc.constantFrom('{line}', '{year:2}', '{day-of-year}', '{hour}', ' ', '-', '{lane}'), { maxLength: 9 }).map((parts) => parts.join(''));
  fc.assert(fc.property(pattern, pattern, (one, other) => {
    expect(piecesOf(one, other).map(({ text }) => text).join('')).toBe(one);
    expect(changed(one, one)).toEqual([]);
    // Both sides agree on how much they have in common.
    expect(piecesOf(one, other).length - changed(one, other).length).toBe(piecesOf(other, one).length - changed(other, one).length);
  }));
});

it('lists the lines that have more than one version, newest first', () => {
  const row = (id: number, lineId: number, effectiveFrom: string) => ({ id, lineId, line: `L${lineId}`, pattern: '{day-of-year}', effectiveFrom });
  expect(linesWithVersions([row(1, 1, '2026-01-01T00:00:00Z'), row(2, 2, '2026-01-01T00:00:00Z'), row(3, 1, '2026-02-01T00:00:00Z')]).map(({ line, versions }) => [line, versions.map(({ id }) => id)])).toEqual([['L1', [3, 1]]]);
});
