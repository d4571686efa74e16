import { expect, it } from 'vitest';
import { missedChecks } from './missed-checks.js';

const at = (clock: string) => new Date(`2026-03-01T${clock}:00Z`);
const span = { from: at('08:00'), to: at('12:00') };
const gaps = (everyMinutes: number, ...clocks: string[]) => missedChecks([{ planId: 1, everyMinutes, takenAt: clocks.map(at) }], span).map(({ from, until, due }) => [from.toISOString().slice(11, 16), until.toISOString().slice(11, 16), due]);

it('sees nothing while checks come in time, also a little late', () => {
  expect(gaps(60, '07:30', '08:30', '09:50', '10:50', '11:40', '12:30')).toEqual([]);
  expect(gaps(600, '07:30')).toEqual([]);
});

it('reports the stretch and how many checks were due in it', () => {
  expect(gaps(60, '07:30', '08:30', '11:30', '12:30')).toEqual([['08:30', '11:30', 2]]);
  expect(gaps(30)).toEqual([['08:00', '12:00', 7]]);
});

it('cuts a stretch at the span but counts what was due in all of it', () => {
  expect(gaps(60, '05:00', '09:00', '09:50', '10:45', '11:45')).toEqual([['08:00', '09:00', 3]]);
});
