import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { Rounds } from './rounds.js';

beforeEach(() => { vi.useFakeTimers(); });
afterEach(() => { vi.useRealTimers(); });

it('begins the next round only after the last one ended, and waits for it when stopped', async () => {
  const ends: (() => void)[] = [];
  const rounds = new Rounds('a job', () => new Promise<void>((resolve) => { ends.push(resolve); }), 1000);
  rounds.start();
  await vi.advanceTimersByTimeAsync(5000);
  rounds.nudge();
  await vi.advanceTimersByTimeAsync(5000);
  expect(ends).toHaveLength(1);
  ends[0]?.();
  await vi.advanceTimersByTimeAsync(999);
  expect(ends).toHaveLength(1);
  rounds.nudge();
  await vi.advanceTimersByTimeAsync(0);
  expect(ends).toHaveLength(2);
  let stopped = false;
  const stop = rounds.stop().then(() => { stopped = true; });
  await vi.advanceTimersByTimeAsync(5000);
  expect(stopped).toBe(false);
  ends[1]?.();
  await stop;
  await vi.advanceTimersByTimeAsync(5000);
  expect(ends).toHaveLength(2);
});

it('runs no second round beside one that is under way when it is started again', async () => {
  const ends: (() => void)[] = [];
  const rounds = new Rounds('a job', () => new Promise<void>((resolve) => { ends.push(resolve); }), 1000);
  rounds.start();
  await vi.advanceTimersByTimeAsync(0);
  const stop = rounds.stop();
  rounds.start();
  await vi.advanceTimersByTimeAsync(5000);
  expect(ends).toHaveLength(1);
  ends[0]?.();
  await stop;
  await vi.advanceTimersByTimeAsync(1000);
  expect(ends).toHaveLength(2);
});

it('goes on after a failure and says the same trouble once, until a round went well', async () => {
  const outcomes: (string | null)[] = ['away', 'away', 'full', null, 'full', 'full'];
  const lines: string[] = [];
  const rounds = new Rounds('a job', async () => { const trouble = outcomes.shift(); if (trouble) throw new Error(trouble); }, 1000, (line) => lines.push(line));
  rounds.start();
  await vi.advanceTimersByTimeAsync(5500);
  await rounds.stop();
  expect(outcomes).toEqual([]);
  expect(lines).toEqual(['seamledger: a job: away', 'seamledger: a job: full', 'seamledger: a job: full']);
});
