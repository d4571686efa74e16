import { setTimeout } from 'node:timers/promises';
import { expect, it } from 'vitest';
import { AT_ONCE, inTurn } from './in-turn.js';

it('lets the next slices begin early and go on in their turn, never more at once than may be', async () => {
  const seen: string[] = [];
  let [running, most] = [0, 0];
  await inTurn([[1, 2], [3, 4], [5, 6], [7]], async (slice, turn) => {
    most = Math.max(most, running + 1);
    running += 1;
    seen.push(`begin ${slice.join()}`);
    await setTimeout(slice[0] === 1 ? 20 : 1);
    await turn;
    seen.push(`judge ${slice.join()}`);
    await setTimeout(1);
    seen.push(`end ${slice.join()}`);
    running -= 1;
  });
  expect(most).toBe(AT_ONCE);
  expect(seen.filter((word) => !word.startsWith('begin'))).toEqual(['1,2', '3,4', '5,6', '7'].flatMap((slice) => [`judge ${slice}`, `end ${slice}`]));
  expect(seen.indexOf('begin 3,4')).toBeLessThan(seen.indexOf('end 1,2'));
});

it('begins nothing after a failure, tells the slices that wait, and throws when nothing runs', async () => {
  const seen: string[] = [];
  let running = 0;
  const failed = inTurn([1, 2, 3, 4], async (entry, turn) => {
    running += 1;
    try {
      await turn;
      await setTimeout(1);
      if (entry === 2) throw new Error('no disk');
      seen.push(`stored ${entry}`);
    } finally {
      await setTimeout(5);
      running -= 1;
    }
  });
  await expect(failed).rejects.toThrow('no disk');
  expect([seen, running]).toEqual([['stored 1'], 0]);
});

it('begins nothing after a slice that failed before its turn', async () => {
  const seen: number[] = [];
  const failed = inTurn([1, 2, 3], async (entry) => {
    seen.push(entry);
    if (entry === 2) throw new Error('refused');
    await setTimeout(10);
  });
  await expect(failed).rejects.toThrow('refused');
  expect(seen).toEqual([1, 2]);
});

it('throws the failure of the last slice, and does nothing without slices', async () => {
  await expect(inTurn([1], async () => { throw new Error('last'); })).rejects.toThrow('last');
  await inTurn([], () => Promise.reject(new Error('never')));
});
