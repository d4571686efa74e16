import { expect, it } from 'vitest';
import { dueCheck, lineRunning, type PlanState } from './due-checks.js';

const now = Date.UTC(2026, 2, 1, 12);
const ago = (minutes: number) => now - minutes * 60_000;
const plan: PlanState = { everyMinutes: 90, lastCheckAt: ago(100), productRuns: true, running: 'running', minutesRun: 100 };

it('is due when the machine ran for longer than the interval since the last check', () => {
  expect(dueCheck(plan, now)).toEqual({ due: true, basis: 'running', dueAt: null, minutesOver: 10, cansOver: null });
  expect(dueCheck({ ...plan, minutesRun: 90 }, now).due).toBe(false);
});

it('counts running time, not the clock: a stop of an hour puts the check off by an hour', () => {
  expect(dueCheck({ ...plan, lastCheckAt: ago(140), minutesRun: 80 }, now).due).toBe(false);
});

it('uses the clock where nothing is counted, and says when it fell due', () => {
  expect(dueCheck({ ...plan, running: 'unknown', minutesRun: null }, now)).toEqual({ due: true, basis: 'clock', dueAt: ago(10), minutesOver: 10, cansOver: null });
  expect(dueCheck({ ...plan, running: 'unknown', minutesRun: null, lastCheckAt: ago(60) }, now)).toEqual({ due: false, basis: 'clock', dueAt: ago(-30), minutesOver: null, cansOver: null });
});

it('is never due while the line stands, makes another product, or no interval is named', () => {
  for (const change of [{ running: 'not-running' as const }, { productRuns: false }, { everyMinutes: null }]) expect(dueCheck({ ...plan, ...change }, now).due).toBe(false);
});

it('asks for the first check of a plan: at once by the clock, after an interval of running where cans are counted', () => {
  expect(dueCheck({ ...plan, lastCheckAt: null, running: 'unknown', minutesRun: null }, now)).toEqual({ due: true, basis: 'clock', dueAt: null, minutesOver: null, cansOver: null });
  expect(dueCheck({ ...plan, lastCheckAt: null, minutesRun: 91 }, now)).toMatchObject({ due: true, minutesOver: null });
  expect(dueCheck({ ...plan, lastCheckAt: null, minutesRun: 30 }, now).due).toBe(false);
});

it('says that a line does not run after fifteen minutes without a can, and since when', () => {
  expect(lineRunning(ago(15), now)).toEqual({ state: 'running', notRunningSince: null });
  expect(lineRunning(ago(16), now)).toEqual({ state: 'not-running', notRunningSince: ago(16) });
  expect(lineRunning(null, now)).toEqual({ state: 'unknown', notRunningSince: null });
});

it('is due by cans where so many were made since the last check, and tells how long that is over', () => {
  const byCans = { ...plan, everyMinutes: null, everyCans: 8000 };
  expect(dueCheck({ ...byCans, minutesRun: 100, cansRun: 10_000 }, now)).toEqual({ due: true, basis: 'cans', dueAt: null, minutesOver: 20, cansOver: 2000 });
  expect(dueCheck({ ...byCans, cansRun: 8000 }, now).due).toBe(false);
  expect(dueCheck({ ...byCans, cansRun: null, minutesRun: null }, now).due).toBe(false);
});

it('takes the most overdue of several reasons, and keeps the cans that are over', () => {
  expect(dueCheck({ ...plan, everyCans: 5000, cansRun: 10_000 }, now)).toMatchObject({ basis: 'cans', minutesOver: 50, cansOver: 5000 });
  expect(dueCheck({ ...plan, everyCans: 9900, cansRun: 10_000, openedAt: ago(5) }, now)).toMatchObject({ basis: 'running', minutesOver: 10, cansOver: 100 });
  expect(dueCheck({ ...plan, openedAt: ago(45) }, now)).toMatchObject({ basis: 'event', dueAt: ago(45), minutesOver: 45 });
});

it('opens a check by an event inside the interval, but not while the line stands', () => {
  const inside = { ...plan, minutesRun: 10, openedAt: ago(3) };
  expect(dueCheck(inside, now)).toEqual({ due: true, basis: 'event', dueAt: ago(3), minutesOver: 3, cansOver: null });
  expect(dueCheck({ ...inside, running: 'not-running' }, now).due).toBe(false);
  expect(dueCheck({ ...inside, everyMinutes: null, running: 'unknown', minutesRun: null }, now).due).toBe(true);
});
