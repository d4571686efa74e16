import { expect, it } from 'vitest';
import type { SignalState } from '#contract/signals';
import { type SignalAction, takeStep } from './lifecycle.js';

const states: SignalState[] = ['open', 'acknowledged', 'cause-assigned', 'closed'];
const step = (action: SignalAction, state: SignalState) => takeStep(action, state, { seen: state, role: 'engineer', text: 'a text' }).state;
const code = (run: () => unknown) => { try { run(); return 'no refusal'; } catch (error) { return (error as { code?: string }).code; } };

it('goes from open to closed by acknowledged and cause assigned, and back only by reopening', () => {
  expect(step('acknowledge', 'open')).toBe('acknowledged');
  expect(step('assign-cause', 'acknowledged')).toBe('cause-assigned');
  expect(step('assign-cause', 'cause-assigned')).toBe('cause-assigned');
  expect(step('close', 'cause-assigned')).toBe('closed');
  expect(step('reopen', 'closed')).toBe('open');
});

it('closes a signal without a cause only after somebody took it', () => {
  expect(step('close', 'acknowledged')).toBe('closed');
  expect(code(() => step('close', 'open'))).toBe('wrong-state');
});

it('refuses every other step', () => {
  const possible: Record<SignalAction, SignalState[]> = { acknowledge: ['open'], 'assign-cause': ['acknowledged', 'cause-assigned'], close: ['acknowledged', 'cause-assigned'], reopen: ['closed'] };
  for (const action of Object.keys(possible) as SignalAction[]) {
    for (const state of states) expect(code(() => step(action, state)), `${action} of ${state}`).toBe(possible[action].includes(state) ? 'no refusal' : 'wrong-state');
  }
});

it('refuses when the state is no longer the one that the person saw', () => {
  expect(code(() => takeStep('acknowledge', 'acknowledged', { seen: 'open', role: 'engineer' }))).toBe('changed-meanwhile');
});

it('asks for a cause and for a closing comment, not for words on acknowledging', () => {
  expect(takeStep('acknowledge', 'open', { seen: 'open', role: 'operator' }).done).toBe('acknowledged');
  expect(() => takeStep('assign-cause', 'acknowledged', { seen: 'acknowledged', role: 'engineer', text: '  x ' })).toThrow(expect.objectContaining({ errors: [{ field: 'cause', expected: 'at least 3 characters' }] }));
  expect(code(() => takeStep('close', 'acknowledged', { seen: 'acknowledged', role: 'engineer' }))).toBe('invalid-input');
});

it('lets an operator acknowledge, a technician assign, an engineer close, and an auditor nothing', () => {
  expect(code(() => takeStep('assign-cause', 'acknowledged', { seen: 'acknowledged', role: 'operator', text: 'wire worn' }))).toBe('not-allowed');
  expect(takeStep('assign-cause', 'acknowledged', { seen: 'acknowledged', role: 'technician', text: 'wire worn' }).state).toBe('cause-assigned');
  expect(code(() => takeStep('close', 'acknowledged', { seen: 'acknowledged', role: 'technician', text: 'steady again' }))).toBe('not-allowed');
  for (const action of ['acknowledge', 'assign-cause', 'close', 'reopen'] as const) expect(code(() => takeStep(action, 'open', { seen: 'open', role: 'auditor', text: 'a text' }))).toBe('not-allowed');
});
