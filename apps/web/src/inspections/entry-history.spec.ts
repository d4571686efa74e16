import { array, assert, nat, property, record } from 'fast-check';
import { expect, it } from 'vitest';
import { type CellStep, closeStep, type History, noHistory, remember, takeStep } from './entry-history.js';

type Cells = Record<number, string>;
const at = (cells: Cells, place: number): CellStep => ({ code: 'hook', place, text: cells[place] ?? '', skip: null });
const change = ([cells, history]: readonly [Cells, History], place: number, text: string) => [{ ...cells, [place]: text }, remember(history, [at(cells, place)], `hook/${place}`)] as const;
const back = ([cells, history]: readonly [Cells, History], way: 'undo' | 'redo') => {
  const taken = takeStep(history, way, (step) => at(cells, step.place));
  return taken ? [{ ...cells, ...Object.fromEntries(taken.apply.map(({ place, text }) => [place, text])) }, taken.history] as const : null;
};

it('takes the digits of one cell back as one step, and two visits as two', () => {
  let state = change(change([{}, noHistory], 0, '2'), 0, '23');
  state = change([state[0], closeStep(state[1])], 0, '237');
  expect(back(state, 'undo')?.[0]).toEqual({ 0: '23' });
  const once = back(state, 'undo');
  expect(once && back(once, 'undo')?.[0]).toEqual({ 0: '' });
});
it('has nothing to take back at the start, and nothing to bring again after a new change', () => {
  expect(back([{}, noHistory], 'undo')).toBeNull();
  const undone = back(change([{}, noHistory], 0, '2'), 'undo');
  expect(undone && back(change(undone, 1, '5'), 'redo')).toBeNull();
});
it('comes back to the first state by undoing all, and to the last one by redoing all', () => {
  assert(property(array(record({ place: nat(3), text: nat(99) }), { minLength: 1, maxLength: 20 }), (changes) => {
    let state: readonly [Cells, History] = [{ 0: '', 1: '', 2: '', 3: '' }, noHistory];
    const first = state[0];
    for (const { place, text } of changes) state = change(state, place, String(text));
    const last = state[0];
    for (let next = back(state, 'undo'); next; next = back(state, 'undo')) state = next;
    expect(state[0]).toEqual(first);
    for (let next = back(state, 'redo'); next; next = back(state, 'redo')) state = next;
    expect(state[0]).toEqual(last);
  }));
});
