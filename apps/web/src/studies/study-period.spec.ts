import { expect, it } from 'vitest';
import type { CapabilityChoice } from '#contract/studies';
import { makeFormat } from '../shared/format.js';
import { momentsOf, studyPeriod } from './study-period.js';

const named = { id: 1, code: 'c', name: 'n' };
const choice: CapabilityChoice = { product: named, machine: { ...named, line: 'L1' }, characteristic: named, units: [], lanes: [], first: '2026-01-01T00:00:00Z', last: '2026-03-31T22:30:00.000Z' };
const berlin = makeFormat('Europe/Berlin');

it('begins with the last thirty days that were measured, on the plant’s calendar', () => {
  // 22:30 UTC is already the first of April in Berlin.
  expect(studyPeriod({}, choice, berlin)).toEqual({ from: '2026-03-03', to: '2026-04-01', lastDay: '2026-04-01' });
  expect(studyPeriod({ from: '2026-02-01', to: '2026-02-10' }, choice, berlin)).toMatchObject({ from: '2026-02-01', to: '2026-02-10' });
});

it('takes whole days over a change of the clocks', () => {
  expect(momentsOf({ from: '2026-03-29', to: '2026-03-29', lastDay: '' }, berlin)).toEqual({ from: '2026-03-28T23:00:00.000Z', to: '2026-03-29T22:00:00.000Z' });
});

it('answers nothing for a period without a day', () => {
  expect(momentsOf({ from: '2026-03-02', to: '2026-03-01', lastDay: '' }, berlin)).toBeNull();
});
