import fc from 'fast-check';
import { expect, it } from 'vitest';
import { parseMoment } from './parse-moment.js';

const lisbon = { timeZone: 'Europe/Lisbon' };
const iso = (text: string, dateOrder: 'year-month-day' | 'day-month-year' | 'month-day-year', timeZone = 'UTC') => {
  const moment = parseMoment(text, { dateOrder, timeZone });
  return 'iso' in moment ? moment.iso : `wrong: ${moment.wrong}`;
};

it('reads the four ways of writing a date, with and without seconds', () => {
  expect(iso('2024-02-06T06:26', 'year-month-day')).toBe('2024-02-06T06:26:00.000Z');
  expect(iso('2024-02-06 06:26:07', 'year-month-day')).toBe('2024-02-06T06:26:07.000Z');
  expect(iso('06.02.2024 06:26', 'day-month-year')).toBe('2024-02-06T06:26:00.000Z');
  expect(iso('02/06/2024 06:26', 'month-day-year')).toBe('2024-02-06T06:26:00.000Z');
  expect(iso('06/02/2024, 06:26', 'day-month-year')).toBe('2024-02-06T06:26:00.000Z');
  expect(iso('2/6/2024 12:05 AM', 'month-day-year')).toBe('2024-02-06T00:05:00.000Z');
  expect(iso('2/6/2024 12:05 pm', 'month-day-year')).toBe('2024-02-06T12:05:00.000Z');
});

it('reads the clock of the stated zone, in summer and in winter', () => {
  expect(iso('2024-02-06 06:26', 'year-month-day', 'Europe/Lisbon')).toBe('2024-02-06T06:26:00.000Z');
  expect(iso('2024-07-06 06:26', 'year-month-day', 'Europe/Lisbon')).toBe('2024-07-06T05:26:00.000Z');
  expect(iso('2024-07-06 06:26', 'year-month-day', 'America/New_York')).toBe('2024-07-06T10:26:00.000Z');
});

it('believes a zone in the text before the stated one', () => {
  expect(iso('2024-07-06T06:26Z', 'year-month-day', 'Europe/Lisbon')).toBe('2024-07-06T06:26:00.000Z');
  expect(iso('2024-07-06T06:26+05:30', 'year-month-day', 'Europe/Lisbon')).toBe('2024-07-06T00:56:00.000Z');
});

// Clocks of Portugal in 2024, by the European directive 2000/84/EC: forward on 31 March and back on 27 October, both at 01:00 UTC.
it('refuses an hour that the clocks skipped in spring', () => {
  expect(parseMoment('2024-03-31 01:30', { ...lisbon, dateOrder: 'year-month-day' })).toEqual({ code: 'moment-skipped', values: { timeZone: 'Europe/Lisbon' }, wrong: expect.stringContaining('skipped this hour') });
  expect(iso('2024-03-31 00:59', 'year-month-day', 'Europe/Lisbon')).toBe('2024-03-31T00:59:00.000Z');
  expect(iso('2024-03-31 02:00', 'year-month-day', 'Europe/Lisbon')).toBe('2024-03-31T01:00:00.000Z');
});

it('takes the first of the hour that the clocks showed twice in autumn', () => {
  expect(iso('2024-10-27 01:30', 'year-month-day', 'Europe/Lisbon')).toBe('2024-10-27T00:30:00.000Z');
  expect(iso('2024-10-27 02:00', 'year-month-day', 'Europe/Lisbon')).toBe('2024-10-27T02:00:00.000Z');
});

it('refuses what is no date and time in the stated order, and says what is expected', () => {
  for (const text of ['', '2024-02-06', '06:26', '2024-02-30 10:00', '2024-13-01 10:00', '24-02-06 06:26', '2024-02-06 24:00', '2024-02-06 06:60', '2024-02.06 06:26', '2024-02-06 06:26 +99:00', '06.02.2024 06:26', 'tomorrow']) {
    expect(iso(text, 'year-month-day'), text).toMatch(/^wrong: /);
  }
  expect(iso('13/02/2024 06:26', 'month-day-year')).toMatch(/day of the calendar/);
  expect(iso('02/06/2024 13:05 PM', 'month-day-year')).toMatch(/^wrong: a date and time such as 03\/01\/2026 08:30/);
});

it('finds the moment again from what the clocks of any zone showed, or the earlier one of the two', () => {
  const zones = ['UTC', 'Europe/Lisbon', 'America/New_York', 'Australia/Lord_Howe', 'Asia/Kathmandu', 'Pacific/Apia'];
  fc.assert(fc.property(fc.integer({ min: Date.UTC(2015, 0, 1) / 60_000, max: Date.UTC(2026, 0, 1) / 60_000 }), fc.constantFrom(...zones), (minute, timeZone) => {
    const moment = new Date(minute * 60_000);
    // "sv-SE" writes 2024-02-06 06:26.
    const shown = new Intl.DateTimeFormat('sv-SE', { timeZone, year: 'numeric', month: '2-digit', day: '2-digit', hour: '2-digit', minute: '2-digit' }).format(moment);
    const found = new Date(iso(shown, 'year-month-day', timeZone)).getTime();
    expect(found).toBeLessThanOrEqual(moment.getTime());
    expect(moment.getTime() - found).toBeLessThanOrEqual(3_600_000);
  }), { numRuns: 300 });
});

it('answers a moment or what is expected to any text', () => {
  fc.assert(fc.property(fc.oneof(fc.string(), fc.stringMatching(/^\d{1,4}[./-]\d{1,2}[./-]\d{1,4} \d{1,2}:\d{2}$/)), fc.constantFrom('year-month-day' as const, 'day-month-year' as const, 'month-day-year' as const), (text, dateOrder) => {
    expect(iso(text, dateOrder, 'Europe/Lisbon')).toMatch(/^(wrong: .+|\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}\.000Z)$/);
  }));
});
