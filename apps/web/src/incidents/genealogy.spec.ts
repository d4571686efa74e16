import { expect, it } from 'vitest';
import { genealogyOf } from './genealogy.js';

type Line = Parameters<typeof genealogyOf>[1];
type Step = Line['steps'][number];
const units = (count: number, first: number) => Array.from({ length: count }, (_, index) => ({ id: first + index, code: `U${index + 1}`, position: index + 1 }));
const step = (kind: string, machines: { code: string; units: ReturnType<typeof units>; retired?: boolean }[]): Step => ({ id: kind.length, kind, position: 1, machines: machines.map(({ code, units: own, retired = false }, index) => ({ id: kind.length * 10 + index, code, name: code, retired, units: own })) });
const lane = (id: number, code: string, position: number) => ({ id, code, name: code, position });
const doubleHigh: Line = { lanes: [lane(8, 'B', 2), lane(7, 'A', 1)], steps: [step('slitter', [{ code: 'SL', units: units(6, 100) }]), step('body-maker', [{ code: 'BM1', units: [] }, { code: 'BM2', units: [] }]), step('flanger', [{ code: 'FL', units: units(8, 200) }]), step('seamer', [{ code: 'SE', units: units(8, 300) }, { code: 'OLD', units: units(4, 400), retired: true }])] };
const can = (change: object = {}) => ({ laneId: null, unitId: null, unit: null, unitMachine: null, ...change });

it('tells the ends of the weld by the half, and the head by the mark', () => {
  expect(genealogyOf(can({ laneId: 7, unitId: 304, unit: 'U5', unitMachine: 'SE' }), doubleHigh)).toEqual({
    body: { of: 2, place: 1, lane: 'A' }, ends: { leading: 'weld-front', trailing: 'parted' }, halves: { front: 'A', back: 'B' }, slitter: { lanes: 3, cans: 6 },
    units: [{ kind: 'seamer', known: { machine: 'SE', unit: 'U5' }, possible: 8 }, { kind: 'flanger', known: null, possible: 8 }],
  });
  expect(genealogyOf(can({ laneId: 8 }), doubleHigh)).toMatchObject({ body: { place: 2, lane: 'B' }, ends: { leading: 'parted', trailing: 'weld-back' } });
});

it('guesses nothing: an unknown half has no ends, a line without lanes one can a body', () => {
  expect(genealogyOf(can(), doubleHigh)).toMatchObject({ body: { of: 2, place: null, lane: null }, ends: null, halves: { front: 'A', back: 'B' } });
  const single: Line = { lanes: [], steps: [step('slitter', [{ code: 'SL', units: units(4, 100) }]), step('body-maker', [{ code: 'B1', units: [] }, { code: 'B2', units: [] }, { code: 'B3', units: [] }])] };
  // Four lanes cannot be shared out evenly among three body makers: how they are is not known.
  expect(genealogyOf(can(), single)).toEqual({ body: { of: 1, place: 1, lane: null }, ends: { leading: 'weld-front', trailing: 'weld-back' }, halves: null, slitter: null, units: [{ kind: 'seamer', known: null, possible: 0 }, { kind: 'flanger', known: null, possible: 0 }] });
  const triple: Line = { ...doubleHigh, lanes: [lane(1, 'A', 1), lane(2, 'M', 2), lane(3, 'B', 3)] };
  expect(genealogyOf(can({ laneId: 2 }), triple)).toMatchObject({ ends: { leading: 'parted', trailing: 'parted' }, slitter: { lanes: 3, cans: 9 } });
});

it('knows the mark of a machine that was retired since', () => {
  expect(genealogyOf(can({ unitId: 401, unit: 'U2', unitMachine: 'OLD' }), doubleHigh).units[0]).toEqual({ kind: 'seamer', known: { machine: 'OLD', unit: 'U2' }, possible: 8 });
});
