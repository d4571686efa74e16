import fc from 'fast-check';
import { expect, it } from 'vitest';
import type { TracedEvent } from './evidence.js';
import { stoodBefore } from './logged-stops.js';

const MINUTE = 60_000;
const steps = [{ id: 1, kind: 'flanger' as const, machines: [{ id: 7, code: 'FL', units: [] }] }];
const stop = (from: number, until: number | null, more: Partial<TracedEvent> = {}): TracedEvent => ({ id: from, machineId: 7, kind: 'stop', at: from * MINUTE, until: until === null ? null : until * MINUTE, text: '', ...more });
const from = (events: readonly TracedEvent[]) => stoodBefore({ from: 90 * MINUTE, until: 95 * MINUTE }, 100 * MINUTE, steps, events).from / MINUTE;

it('sets the begin back by stops on the way, and by those that this brings in', () => {
  expect(from([])).toBe(90);
  expect(from([stop(92, 97)])).toBe(85);
  // The second ended before the window began, but not before the window as the first one widened it.
  expect(from([stop(80, 88), stop(92, 97)])).toBe(77);
  expect(from([stop(70, 80)])).toBe(90);
  // Still standing when the last can had passed: only what lies before.
  expect(from([stop(98, 120)])).toBe(88);
});

it('takes overlapping stops once, those of the whole line too, and nothing else that stands in the log book', () => {
  expect(from([stop(92, 97), stop(94, 96)])).toBe(85);
  expect(from([stop(92, 97, { machineId: null })])).toBe(85);
  expect(from([stop(92, 97, { machineId: 8 })])).toBe(90);
  expect(from([stop(92, 97, { kind: 'setting' })])).toBe(90);
  expect(from([stop(92, null)])).toBe(90);
});

it('never sets a begin forward, nor back by more than all stops together', () => {
  fc.assert(fc.property(fc.array(fc.record({ at: fc.integer({ min: 0, max: 120 }), long: fc.integer({ min: 1, max: 40 }) })), (drawn) => {
    const begin = from(drawn.map(({ at, long }) => stop(at, at + long)));
    expect(begin).toBeLessThanOrEqual(90);
    expect(begin).toBeGreaterThanOrEqual(90 - drawn.reduce((sum, { long }) => sum + long, 0));
  }));
});
