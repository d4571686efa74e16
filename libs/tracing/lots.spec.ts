import { expect, it } from 'vitest';
import type { Evidence, TracedEvent, TracedStream } from './evidence.js';
import { lotsInUse } from './lots.js';
import type { StepWindow } from './origin.js';

const HOUR = 3_600_000;
const T = Date.UTC(2026, 2, 8, 10);
const change = (id: number, hours: number, kind: TracedEvent['kind'] = 'coil-change', machineId = 1): TracedEvent => ({ id, machineId, kind, at: T + hours * HOUR, until: null, text: `lot ${id}` });
const window: StepWindow = { stepId: 1, stepKind: 'body-maker', from: T - 60_000, until: T + 60_000, basis: 'code' };
/** A check each hour; those of a span are off. */
const stream = (off: readonly [number, number] | null): TracedStream => ({
  id: 1, characteristic: 'weld-thickness', stepKind: 'body-maker', machineId: 1, laneId: null, unitId: null, limits: { centre: 10, sigma: 1 },
  points: Array.from({ length: 60 }, (_, i) => { const value = 10 + Math.sin((i + 1) * 12.9898) + (off && i - 30 >= off[0] && i - 30 < off[1] ? 3 : 0); return { at: T + (i - 30) * HOUR + 1, mean: value, n: 1, members: [value] }; }),
});
const given = (events: readonly TracedEvent[], streams: readonly TracedStream[] = []): Pick<Evidence, 'events' | 'streams' | 'line' | 'now'> => ({
  events, streams, now: T + 30 * HOUR, line: { id: 1, clockMinutes: 2, lanes: [], slitterLanes: null, stretches: [], steps: [{ id: 1, kind: 'body-maker', machines: [{ id: 1, code: 'BM', units: [] }] }] },
});

it('names the lot that was on while the cans passed, with its end, and no other', () => {
  const lots = lotsInUse(given([change(1, -20), change(2, -6), change(3, 5), change(4, -3, 'wire-change'), change(5, -1, 'stop'), change(6, -2, 'coil-change', 9)]), [window]);
  expect(lots.map(({ eventId, from, until, moved }) => [eventId, from, until, moved])).toEqual([[2, T - 6 * HOUR, T + 5 * HOUR, null], [4, T - 3 * HOUR, null, null]]);
  expect(lotsInUse(given([change(1, 3)]), [window])).toEqual([]);
});

it('tells a lot whose readings moved just while it was on from one that they did not follow', () => {
  const events = [change(1, -20), change(2, -6), change(3, 5), change(4, -25, 'wire-change')];
  const [first, second] = lotsInUse(given(events, [stream([-6, 5])]), [window]);
  expect(first).toMatchObject({ eventId: 2, moved: { characteristic: 'weld-thickness', points: 11 } });
  expect(first?.moved?.times).toBeGreaterThan(1000);
  expect(first?.moved?.size).toBeGreaterThan(2);
  expect(second).toMatchObject({ eventId: 4 });
  expect(lotsInUse(given(events, [stream(null)]), [window]).every(({ moved }) => (moved?.times ?? 0) < 1)).toBe(true);
});
