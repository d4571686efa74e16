import { expect, it } from 'vitest';
import { type IncidentState, incidentStates } from '#contract/incident-shapes';
import { Problem } from '#contract/problem';
import { emptiedFields, nextState, previousState, requireStep } from './life.js';

const refused = (state: IncidentState, to: IncidentState) => {
  try { requireStep(state, to); return null; } catch (error) { return error instanceof Problem ? error.detail : 'no problem'; }
};

it('takes one step at a time, and none twice', () => {
  for (const state of incidentStates) {
    for (const to of incidentStates) expect(refused(state, to) === null, `${state} to ${to}`).toBe(nextState(state) === to);
  }
  expect(refused('open', 'cause-found')).toBe('The incident is open; the next step is “contained”.');
  expect(refused('closed', 'contained')).toContain('open it again');
});

it('goes back one step, and from closed to where it was closed from', () => {
  expect(incidentStates.map((state) => previousState(state, true))).toEqual([null, 'open', 'contained', 'cause-found', 'action-taken', 'effect-verified']);
  expect(previousState('closed', false)).toBe('action-taken');
});

it('lets nobody take away what a reached state rests on', () => {
  const full = { containment: 'held', cause: 'coil', action: 'changed', causeCategory: 'plate' };
  const none = { containment: ' ', cause: '', action: '', causeCategory: null };
  const fields = (state: string, before = full) => emptiedFields(state, before, none).map(({ field }) => field);
  expect(fields('open')).toEqual([]);
  expect(fields('contained')).toEqual(['containment']);
  expect(fields('cause-found')).toEqual(['containment', 'cause', 'causeCategory']);
  expect(fields('effect-verified')).toEqual(['containment', 'cause', 'causeCategory', 'action']);
  expect(fields('action-taken', { ...full, containment: '', causeCategory: '' })).toEqual(['cause', 'action']);
  expect(emptiedFields('action-taken', full, full)).toEqual([]);
});
