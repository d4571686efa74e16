import { expect, it } from 'vitest';
import { planMail } from './plan-mail.js';

const now = new Date('2026-03-02T12:00:00Z');
const minutesAgo = (minutes: number) => new Date(now.getTime() - minutes * 60_000);
const waiting = [{ id: 1, topic: 'stream 7', at: minutesAgo(5) }, { id: 2, topic: 'stream 8', at: minutesAgo(3) }, { id: 3, topic: 'stream 7', at: minutesAgo(1) }];
const none = { mailAt: null, topics: new Map<string, Date>() };
const always = { quiet: null, digestMinutes: null };

it('sends everything that waits in one e-mail', () => {
  expect(planMail(waiting, always, none, now, 720)).toEqual([1, 2, 3]);
});

it('speaks of one stream once an hour at most, and keeps the rest waiting', () => {
  const last = (minutes: number) => ({ mailAt: minutesAgo(minutes), topics: new Map([['stream 7', minutesAgo(minutes)]]) });
  expect(planMail(waiting, always, last(59), now, 720)).toEqual([2]);
  expect(planMail(waiting, always, last(60), now, 720)).toEqual([1, 2, 3]);
});

it('is silent in quiet hours, over midnight too, and speaks at their end', () => {
  const night = { quiet: { from: 22 * 60, until: 6 * 60 }, digestMinutes: null };
  expect([22 * 60, 0, 359].map((minute) => planMail(waiting, night, none, now, minute))).toEqual([[], [], []]);
  expect([360, 22 * 60 - 1].map((minute) => planMail(waiting, night, none, now, minute))).toEqual([[1, 2, 3], [1, 2, 3]]);
});

it('gathers for a digest', () => {
  const daily = { quiet: null, digestMinutes: 240 };
  expect(planMail(waiting, daily, { mailAt: minutesAgo(239), topics: new Map() }, now, 720)).toEqual([]);
  expect(planMail(waiting, daily, { mailAt: minutesAgo(240), topics: new Map() }, now, 720)).toEqual([1, 2, 3]);
});
