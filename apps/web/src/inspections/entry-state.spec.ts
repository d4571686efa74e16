import { expect, it } from 'vitest';
import { cellKey, newDraft, type Sheet } from './entry-draft.js';
import { beginState, type EntryAct, entryReducer, type EntryState } from './entry-state.js';

const sheet: Sheet = {
  machine: { id: 4, code: 'SE1', name: 'Seamer 1' }, product: { id: 2, code: 'T65', name: 'Can', bodyPlate: 0.15, endPlate: 0.19, overlapFactor: 1 }, plan: { id: 3, name: 'Teardown' },
  every: { units: [], lanes: [], cans: 2 }, cans: [1, 2].map((number) => ({ number, unitId: null, unit: null, laneId: null, lane: null })), positions: ['60°', '180°'], derived: [], counted: [], gauges: [],
  measured: [{ code: 'hook', name: 'Hook', unit: 'mm', decimals: 2, rating: false, gaugeStep: 0.01, low: 0.5, high: 4, specification: null }],
};
const begun = beginState(newDraft(sheet, { key: 'a-key-of-its-own', takenAt: '2026-03-01T08:00:00.000Z', inspector: 'A', gauges: {} }));
const after = (acts: readonly EntryAct[], state: EntryState = begun) => acts.reduce(entryReducer(sheet), state);
const type = (place: number, text: string): EntryAct => ({ do: 'type', code: 'hook', place, text });
const leave = (place: number): EntryAct => ({ do: 'leave', code: 'hook', place });

it('settles a cell as it is left, and takes the whole typing back at once', () => {
  const typed = after([type(0, '2'), type(0, '23'), type(0, '237'), leave(0)]);
  expect(typed.draft.cells['hook']).toEqual(['2.37', '', '', '']);
  const undone = after([{ do: 'undo' }], typed);
  expect(undone.draft.cells['hook']).toEqual(['', '', '', '']);
  expect(undone.turnedTo).toEqual({ code: 'hook', place: 0 });
  expect(after([{ do: 'redo' }], undone).draft.cells['hook']).toEqual(['2.37', '', '', '']);
});

it('leaves a whole can out with its reason, brings it back by undo, and takes a reading in its place', () => {
  const out = after([type(2, '2.4'), leave(2), { do: 'leave-out', cells: [{ code: 'hook', place: 2 }, { code: 'hook', place: 3 }], reason: 'can damaged' }]);
  expect(out.draft.skips).toEqual({ [cellKey('hook', 2)]: 'can damaged', [cellKey('hook', 3)]: 'can damaged' });
  expect(out.draft.cells['hook']?.[2]).toBe('');
  const undone = after([{ do: 'undo' }], out);
  expect([undone.draft.skips, undone.draft.cells['hook']?.[2]]).toEqual([{}, '2.4']);
  expect(after([type(3, '2.5')], out).draft.skips).toEqual({ [cellKey('hook', 2)]: 'can damaged' });
});

it('keeps a second reading beside the first, and forgets it when it is emptied', () => {
  const second = after([type(0, '2.4'), { do: 'second', code: 'hook', place: 0, text: '2.5' }]);
  expect([second.draft.cells['hook']?.[0], second.draft.second]).toEqual(['2.4', { [cellKey('hook', 0)]: '2.5' }]);
  expect(after([{ do: 'second', code: 'hook', place: 0, text: ' ' }], second).draft.second).toEqual({});
});
