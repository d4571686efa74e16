import { expect, it } from 'vitest';
import { moveInGrid, nextOpen } from './grid-moves.js';

const shape = { rows: 2, columns: 3 };
const ends = { atStart: true, atEnd: true, empty: false };

it('goes on in reading order, from row to row, and out after the last cell', () => {
  expect(moveInGrid('Enter', { row: 0, column: 2 }, shape, ends)).toEqual({ row: 1, column: 0 });
  expect(moveInGrid('Enter', { row: 1, column: 0 }, shape, ends, true)).toEqual({ row: 0, column: 2 });
  expect(moveInGrid('Enter', { row: 1, column: 2 }, shape, ends)).toBe('after');
});

it('moves up and down within a column and stays inside', () => {
  expect(moveInGrid('ArrowDown', { row: 0, column: 1 }, shape, ends)).toEqual({ row: 1, column: 1 });
  expect(moveInGrid('ArrowUp', { row: 0, column: 1 }, shape, ends)).toBeNull();
  expect(moveInGrid('ArrowDown', { row: 1, column: 1 }, shape, ends)).toBeNull();
});

it('leaves left and right to the text until its end is reached', () => {
  expect(moveInGrid('ArrowRight', { row: 0, column: 1 }, shape, { atStart: false, atEnd: false, empty: false })).toBeNull();
  expect(moveInGrid('ArrowRight', { row: 0, column: 2 }, shape, ends)).toEqual({ row: 1, column: 0 });
  expect(moveInGrid('ArrowRight', { row: 1, column: 2 }, shape, ends)).toBeNull();
  expect(moveInGrid('ArrowLeft', { row: 0, column: 0 }, shape, ends)).toBeNull();
  expect(moveInGrid('5', { row: 0, column: 0 }, shape, ends)).toBeNull();
});

it('goes back by Backspace from an empty cell only', () => {
  expect(moveInGrid('Backspace', { row: 1, column: 0 }, shape, { ...ends, empty: true })).toEqual({ row: 0, column: 2 });
  expect(moveInGrid('Backspace', { row: 1, column: 0 }, shape, ends)).toBeNull();
  expect(moveInGrid('Backspace', { row: 0, column: 0 }, shape, { ...ends, empty: true })).toBeNull();
});

it('goes past what is left out', () => {
  const leftOut = ({ row }: { row: number }) => row === 0;
  expect(nextOpen({ row: 0, column: 0 }, shape, leftOut)).toEqual({ row: 1, column: 0 });
  expect(nextOpen({ row: 0, column: 0 }, shape, () => false)).toEqual({ row: 0, column: 1 });
  expect(nextOpen({ row: 0, column: 0 }, shape, () => true)).toBe('after');
});
