import { expect, it } from 'vitest';
import { inSpan, isOnShift, minuteOfDay, planMail, weekdayOf } from './plan-mail.js';

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

it('reads minutes off the plant’s clock, in summer and in winter', () => {
  expect(minuteOfDay(new Date('2026-07-01T21:30:00Z'), 'Europe/Lisbon')).toBe(22 * 60 + 30);
  expect(minuteOfDay(new Date('2026-01-01T00:05:00Z'), 'Europe/Lisbon')).toBe(5);
  expect(inSpan(480, { from: 480, until: 960 }) && !inSpan(960, { from: 480, until: 960 })).toBe(true);
});

it('tells on the chosen days of the plant’s clock, a night shift by the day on which it begins', () => {
  // 2026-03-02 is a Monday.
  expect(weekdayOf(new Date('2026-03-02T04:30:00Z'), 'America/New_York')).toBe(7);
  expect(weekdayOf(new Date('2026-03-02T05:00:00Z'), 'America/New_York')).toBe(1);
  const workdays = [1, 2, 3, 4, 5];
  expect([[5, 700], [6, 700], [1, 0]].map(([day, minute]) => isOnShift({ shift: null, days: workdays }, day as number, minute as number))).toEqual([true, false, true]);
  const night = { shift: { from: 22 * 60, until: 6 * 60 }, days: workdays };
  expect([[5, 23 * 60], [6, 5 * 60], [6, 23 * 60], [7, 60], [1, 60], [2, 60], [2, 12 * 60]].map(([day, minute]) => isOnShift(night, day as number, minute as number))).toEqual([true, true, false, false, false, true, false]);
});
