import { expect, it } from 'vitest';
import { dueCheck, lineRunning, type PlanState } from './due-checks.js';

const now = Date.UTC(2026, 2, 1, 12);
const ago = (minutes: number) => now - minutes * 60_000;
const plan: PlanState = { everyMinutes: 90, lastCheckAt: ago(100), productRuns: true, running: 'running', minutesRun: 100 };

it('is due when the machine ran for longer than the interval since the last check', () => {
  expect(dueCheck(plan, now)).toEqual({ due: true, basis: 'running', dueAt: null, minutesOver: 10 });
  expect(dueCheck({ ...plan, minutesRun: 90 }, now).due).toBe(false);
});

it('counts running time, not the clock: a stop of an hour puts the check off by an hour', () => {
  expect(dueCheck({ ...plan, lastCheckAt: ago(140), minutesRun: 80 }, now).due).toBe(false);
});

it('uses the clock where nothing is counted, and says when it fell due', () => {
  expect(dueCheck({ ...plan, running: 'unknown', minutesRun: null }, now)).toEqual({ due: true, basis: 'clock', dueAt: ago(10), minutesOver: 10 });
  expect(dueCheck({ ...plan, running: 'unknown', minutesRun: null, lastCheckAt: ago(60) }, now)).toEqual({ due: false, basis: 'clock', dueAt: ago(-30), minutesOver: null });
});

it('is never due while the line stands, makes another product, or no interval is named', () => {
  for (const change of [{ running: 'not-running' as const }, { productRuns: false }, { everyMinutes: null }]) expect(dueCheck({ ...plan, ...change }, now).due).toBe(false);
});

it('asks for the first check of a plan: at once by the clock, after an interval of running where cans are counted', () => {
  expect(dueCheck({ ...plan, lastCheckAt: null, running: 'unknown', minutesRun: null }, now)).toEqual({ due: true, basis: 'clock', dueAt: null, minutesOver: null });
  expect(dueCheck({ ...plan, lastCheckAt: null, minutesRun: 91 }, now)).toMatchObject({ due: true, minutesOver: null });
  expect(dueCheck({ ...plan, lastCheckAt: null, minutesRun: 30 }, now).due).toBe(false);
});

it('says that a line does not run after fifteen minutes without a can, and since when', () => {
  expect(lineRunning(ago(15), now)).toEqual({ state: 'running', notRunningSince: null });
  expect(lineRunning(ago(16), now)).toEqual({ state: 'not-running', notRunningSince: ago(16) });
  expect(lineRunning(null, now)).toEqual({ state: 'unknown', notRunningSince: null });
});
