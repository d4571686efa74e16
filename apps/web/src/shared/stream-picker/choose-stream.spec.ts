import { expect, it } from 'vitest';
import type { StreamListed } from '#contract/specifications';
import { chooseStream, facetOptions, firstStream } from './choose-stream.js';

function stream(id: number, at: { line: number; machine: number; characteristic: number; product?: number; unit?: number }, more: Partial<StreamListed> = {}): StreamListed {
  const named = (part: number) => ({ id: part, code: `C${part}`, name: `name ${part}` });
  return {
    id, line: named(at.line), machine: { ...named(at.machine), stepKind: 'seamer' }, product: named(at.product ?? 1), unit: at.unit === undefined ? null : { id: at.unit, code: `H${at.unit}` }, lane: null,
    characteristic: { ...named(at.characteristic), unit: 'mm', decimals: 2, gaugeStep: 0.01, formula: null }, chartKind: 'i-mr', basis: 'can', rules: ['beyond-limits'], revision: 1, lastAt: '2026-03-01T08:00:00.000Z', hasLimits: true, openSignals: 0, ...more,
  };
}
const streams = [
  stream(1, { line: 1, machine: 1, characteristic: 1, unit: 1 }), stream(2, { line: 1, machine: 1, characteristic: 1, unit: 2 }),
  stream(3, { line: 1, machine: 1, characteristic: 2, unit: 2 }), stream(4, { line: 2, machine: 5, characteristic: 2, unit: 9 }),
  stream(5, { line: 2, machine: 6, characteristic: 1, unit: 8 }), stream(6, { line: 1, machine: 1, characteristic: 2, product: 2, unit: 2 }, { lastAt: '2026-03-05T08:00:00.000Z' }),
];
const [one, two] = streams as [StreamListed, StreamListed];

it('offers what the choices above leave', () => {
  expect(facetOptions(streams, one, 'line').map(({ id }) => id)).toEqual([1, 2]);
  expect(facetOptions(streams, one, 'machine').map(({ id }) => id)).toEqual([1]);
  expect(facetOptions(streams, one, 'unit').map(({ code }) => code)).toEqual(['H1', 'H2']);
  expect(facetOptions(streams, one, 'lane')).toEqual([{ id: 0, code: '', name: null }]);
});

it('keeps what is measured when the line changes, and the unit when the characteristic does', () => {
  expect(chooseStream(streams, one, 'line', 2).id).toBe(5);
  expect(chooseStream(streams, two, 'characteristic', 2).id).toBe(3);
  expect(chooseStream(streams, one, 'unit', 2).id).toBe(2);
});

it('stays where it is when there is nothing like that', () => {
  expect(chooseStream(streams, one, 'unit', 77)).toBe(one);
});

it('opens what has an open signal, else what was measured last', () => {
  expect(firstStream(streams)?.id).toBe(6);
  expect(firstStream([...streams, stream(7, { line: 1, machine: 1, characteristic: 1 }, { openSignals: 1, lastAt: null })])?.id).toBe(7);
  expect(firstStream([])).toBeUndefined();
});
