import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type CodeMeaning, decode, type DecodingContext } from './decode.js';
import type { CodedLine } from './match-code.js';
import { type CodePattern, parsePattern } from './parse-pattern.js';
import { spansOfWall } from './plant-clock.js';
import { printCode } from './print-code.js';
import { letterOfShift, shiftsOfLetter } from './shift-hours.js';
import { shiftAt } from '../line/shifts.js';

const line: CodedLine = {
  id: 1, code: 'L1', lanes: [{ id: 11, code: 'A' }, { id: 12, code: 'B' }],
  machines: [
    { id: 21, code: 'FL1', stepId: 31, units: [{ id: 41, code: 'S1' }] },
    { id: 22, code: 'SM1', stepId: 32, units: [{ id: 51, code: 'H1' }, { id: 52, code: 'H2' }] },
    { id: 23, code: 'SM2', stepId: 32, units: [{ id: 61, code: 'H1' }] },
  ],
};
const at = (text: string) => Date.parse(text);
const context: DecodingContext = { timeZone: 'Europe/Lisbon', before: at('2026-06-01T00:00:00Z'), firstRecord: null, line, printedAtStepId: 32, shifts: [] };

function pattern(text: string): CodePattern {
  const parsed = parsePattern(text);
  if (!parsed.ok) throw new Error(`${text}: ${parsed.fault.expected}`);
  return parsed.pattern;
}
const read = (text: string, code: string, change: Partial<DecodingContext> = {}) => decode(pattern(text), code, { ...context, ...change });
const spans = (meanings: readonly CodeMeaning[]) => meanings.map(({ from, until }) => [new Date(from).toISOString().slice(0, 16), new Date(until).toISOString().slice(0, 16)]);
const demo = '{line} {year:2}{day-of-year} {hour}{minute} {lane}';

describe('a pattern', () => {
  it.each([
    ['{day-of-year}', null], [demo, null], ['{year}-{month}-{day} {hour} {text}', null], ['{machine}{unit}{shift}{year:1}{day-of-year}', null],
    ['', [1, 'a field for the day']], ['{year:2}{month}', [16, 'a field for the day']], ['{day-of-year}{day}', [19, 'the day once']],
    ['{jday}', [2, 'a field: {line}, {year}']], ['{year:3}', [7, '1, 2 or 4 digits']], ['{year:}', [7, '1, 2 or 4 digits']], ['{year:2:2}', [7, '1, 2 or 4 digits']],
    ['{day-of-year', [13, 'a closing brace']], ['L1} {day-of-year}', [3, 'an opening brace']], ['{hour:2}{day-of-year}', [6, '} after {hour']],
    ['{hour}{day-of-year}{hour}', [21, 'each field once']], ['{text}{day-of-year}{text}', [21, 'a length, such as {text:3}']],
    ['{minute}{day-of-year}', [22, '{hour}, because']], ['x'.repeat(201), [201, 'at most 200']],
  ])('%s', (text, fault) => {
    const parsed = parsePattern(text);
    if (fault === null) expect(parsed).toMatchObject({ ok: true, pattern: { text } });
    else expect(parsed).toEqual({ ok: false, fault: { position: fault[0], expected: expect.stringContaining(String(fault[1])) } });
  });

  it('never throws, whatever is typed', () => {
    fc.assert(fc.property(fc.string(), (text) => typeof parsePattern(text).ok === 'boolean'));
  });
});

describe('a code', () => {
  it('names its minute by the plant’s clock, in summer and in winter, however it is typed', () => {
    expect(spans(read(demo, 'L1 26121 1432 A').meanings)).toEqual([['2026-05-01T13:32', '2026-05-01T13:33']]);
    expect(spans(read(demo, ' l1260151432 b').meanings)).toEqual([['2026-01-15T14:32', '2026-01-15T14:33']]);
    expect(read(demo, 'L1 26121 1432 B').meanings).toMatchObject([{ lineId: 1, laneId: 12, unitId: null, machineId: null, precision: 'minute', cautions: [] }]);
  });

  it('names a whole hour or day where it says no more; a day of 23 or 25 hours is as long as it was', () => {
    expect(spans(read('{year:2}{day-of-year}{hour}', '2612114').meanings)).toEqual([['2026-05-01T13:00', '2026-05-01T14:00']]);
    expect(spans(read('{year}{month}{day}', '20260329').meanings)).toEqual([['2026-03-29T00:00', '2026-03-29T23:00']]);
    expect(spans(read('{year}{month}{day}', '20251026').meanings)).toEqual([['2025-10-25T23:00', '2025-10-27T00:00']]);
  });

  it('an hour that came twice is two hours wide, a minute that came twice has two meanings, a skipped one is impossible', () => {
    const hour = read('{year}{month}{day}{hour}', '2025102601').meanings;
    expect(spans(hour)).toEqual([['2025-10-26T00:00', '2025-10-26T02:00']]);
    expect(hour[0]?.cautions).toEqual(['clock-set-back']);
    const minute = read('{year}{month}{day}{hour}{minute}', '202510260130').meanings;
    expect(spans(minute)).toEqual([['2025-10-26T01:30', '2025-10-26T01:31'], ['2025-10-26T00:30', '2025-10-26T00:31']]);
    expect(minute.map(({ cautions }) => cautions)).toEqual([['clock-set-back'], ['clock-set-back']]);
    expect(read('{year}{month}{day}{hour}', '2026032901')).toEqual({ meanings: [], refusals: [{ kind: 'skipped-by-the-clock', named: '2026-03-29 01:00' }] });
  });

  it('is read in zones whose clocks change by half an hour, at midnight, or not at all', () => {
    expect(spans(read('{year}{month}{day}{hour}', '2025040601', { timeZone: 'Australia/Lord_Howe' }).meanings)).toEqual([['2025-04-05T14:00', '2025-04-05T15:30']]);
    expect(spans(read('{year}{month}{day}', '20250907', { timeZone: 'America/Santiago' }).meanings)).toEqual([['2025-09-07T04:00', '2025-09-08T03:00']]);
    expect(spans(read('{year}{month}{day}{hour}{minute}', '202509070545', { timeZone: 'Asia/Kathmandu' }).meanings)).toEqual([['2025-09-07T00:00', '2025-09-07T00:01']]);
  });

  it('takes the latest year that is possible before the receipt, and says so', () => {
    expect(spans(read('{year:1}{day-of-year}', '6001').meanings)).toEqual([['2026-01-01T00:00', '2026-01-02T00:00']]);
    expect(spans(read('{year:1}{day-of-year}', '6300').meanings)).toEqual([['2016-10-25T23:00', '2016-10-26T23:00']]);
    expect(spans(read('{day-of-year}', '300').meanings)).toEqual([['2025-10-27T00:00', '2025-10-28T00:00']]);
    expect(read('{day-of-year}', '300').meanings[0]?.cautions).toEqual(['year-taken']);
    expect(spans(read('{year:1}{month}{day}', '40229').meanings)).toEqual([['2024-02-29T00:00', '2024-03-01T00:00']]);
    expect(read('{year:2}{day-of-year}', '26200').refusals).toEqual([{ kind: 'after-receipt', named: '2026-07-19' }]);
    expect(read('{year:2}{day-of-year}', '27001').refusals).toEqual([{ kind: 'after-receipt', named: '2027-01-01' }]);
  });

  it('says why it is none: no such day, no such time, another line', () => {
    expect(read('{year:2}{day-of-year}', '25366').refusals).toEqual([{ kind: 'no-such-day', named: 'day 366 of 2025' }]);
    expect(read('{year:2}{day-of-year}', '25000').refusals).toEqual([{ kind: 'no-such-day', named: 'day 0 of 2025' }]);
    expect(read('{year}{month}{day}', '20250230').refusals).toEqual([{ kind: 'no-such-day', named: '02-30 of 2025' }]);
    expect(read('{year:2}{day-of-year}{hour}{minute}', '251002460').refusals).toEqual([{ kind: 'no-such-time', named: '24:60' }]);
    expect(read(demo, 'L2 25307 1432 A').refusals).toEqual([{ kind: 'does-not-fit', position: 1, expected: 'the line code L1', found: 'L2253071' }]);
    expect(read(demo, 'L1 25307 1432 C').refusals).toEqual([{ kind: 'does-not-fit', position: 12, expected: 'a lane of line L1: A, B', found: 'C' }]);
    expect(read(demo, 'L1 25307 1432 AA').refusals).toEqual([{ kind: 'does-not-fit', position: 13, expected: 'the end of the code', found: 'A' }]);
    expect(read(demo, '').refusals).toMatchObject([{ kind: 'does-not-fit', position: 1 }]);
  });

  it('finds the head of the machine that it names, of each printing machine where it names none, and of no other step', () => {
    expect(read('{day-of-year}{machine}{unit}', '100SM2H1').meanings).toMatchObject([{ machineId: 23, unitId: 61 }]);
    expect(read('{day-of-year}{unit}{machine}', '100H1SM2').meanings).toMatchObject([{ machineId: 23, unitId: 61 }]);
    expect(read('{day-of-year}{unit}', '100H1').meanings.map(({ unitId }) => unitId).sort()).toEqual([51, 61]);
    expect(read('{day-of-year}{unit}', '100S1').refusals).toMatchObject([{ kind: 'does-not-fit', position: 4, found: 'S1' }]);
    expect(read('{day-of-year}{shift}', '100C').meanings).toMatchObject([{ shift: 'C' }]);
  });

  it('warns of a time before the first record', () => {
    expect(read(demo, 'L1 25307 1432 A', { firstRecord: at('2025-11-03T14:32:00Z') }).meanings[0]?.cautions).toEqual([]);
    expect(read(demo, 'L1 25307 1432 A', { firstRecord: at('2025-11-03T14:33:00Z') }).meanings[0]?.cautions).toEqual(['before-first-record']);
  });

  it('with text of any length gives each reading once', () => {
    expect(read('{text}{day-of-year}{text:1}', 'XX100Y').meanings).toHaveLength(1);
    expect(read('{text}{day-of-year}', '2100').meanings).toHaveLength(1);
  });
});

const zones = ['Europe/Lisbon', 'America/New_York', 'Australia/Lord_Howe', 'Asia/Kathmandu', 'Pacific/Kiritimati', 'America/St_Johns', 'Africa/Casablanca'];

it('reads a code that ends before its half or head, and leaves that unknown', () => {
  expect(read(demo, 'L1 25307 1432').meanings).toMatchObject([{ laneId: null, cautions: ['mark-missing'] }]);
  expect(read('{day-of-year}{machine}{unit}', '100SM2').meanings).toMatchObject([{ machineId: 23, unitId: null, cautions: ['year-taken', 'mark-missing'] }]);
  // What is missing before the mark is the time itself, or something that is printed.
  expect(read(demo, 'L1 25307 14').meanings).toEqual([]);
  expect(read('{day-of-year}/{lane}', '100').meanings).toEqual([]);
  expect(read('{day-of-year}{lane}', '100A').meanings).toMatchObject([{ laneId: 11, cautions: ['year-taken'] }]);
});

it('what a printer put on a can is read back as a span that holds the moment, whatever the zone', () => {
  const texts = [demo, '{line}{year:1}{day-of-year}{hour}{machine}{unit}', '{year}/{month}/{day} {hour}:{minute} {lane}{text:2}', '{month}{day}{year:2}{text}'];
  fc.assert(fc.property(fc.integer({ min: at('2019-01-01T00:00Z'), max: at('2026-05-31T00:00Z') }), fc.constantFrom(...zones), fc.constantFrom(...texts), (moment, timeZone, text) => {
    const code = printCode(pattern(text), moment, timeZone, { line: 'L1', lane: 'B', machine: 'SM1', unit: 'H2', shift: null });
    const { meanings } = read(text, code ?? '', { timeZone, before: moment + 60_000 });
    expect(meanings.some(({ from, until }) => from <= moment && moment < until), `${code} ${new Date(moment).toISOString()} ${timeZone}`).toBe(true);
  }), { numRuns: 300 });
});

it('a day of a zone ends where the next one begins', () => {
  const day = 86_400_000;
  fc.assert(fc.property(fc.integer({ min: 0, max: 20_000 }), fc.constantFrom(...zones), (days, timeZone) => {
    const [first] = spansOfWall({ from: days * day, until: (days + 1) * day }, timeZone);
    const [next] = spansOfWall({ from: (days + 1) * day, until: (days + 2) * day }, timeZone);
    // A zone that moved across the date line left a day out.
    if (first && next) expect(first.until).toBe(next.from);
  }), { numRuns: 60 });
});

it('prints no code for a can that lacks what the pattern names', () => {
  expect(printCode(pattern(demo), 0, 'UTC', { line: 'L1', lane: null, machine: null, unit: null, shift: null })).toBeNull();
  expect(() => read(demo, 'L1 25307 1432 A', { before: Number.NaN })).toThrow('before must be a finite number');
});

const daily = [1, 2, 3, 4, 5, 6, 7];
const shifts = [{ name: 'Early', beginMinute: 360, endMinute: 840, days: daily }, { name: 'Late', beginMinute: 840, endMinute: 1320, days: daily }, { name: 'Night', beginMinute: 1320, endMinute: 360, days: [1, 2, 3, 4, 5] }];

describe('the letter of a shift', () => {
  const of = (code: string, change: Partial<DecodingContext> = {}) => read('{year}{month}{day}{shift}', code, { shifts, ...change }).meanings;

  it('narrows the day to the hours of the shift; the night before belongs to the day, and is a meaning of its own', () => {
    expect(spans(of('20260113E'))).toEqual([['2026-01-13T06:00', '2026-01-13T14:00']]);
    expect(of('20260113E')).toMatchObject([{ precision: 'shift', shift: 'E', cautions: [] }]);
    expect(spans(of('20260113N'))).toEqual([['2026-01-13T22:00', '2026-01-14T00:00'], ['2026-01-13T00:00', '2026-01-13T06:00']]);
    // The night shift of Friday is on until Saturday morning, and none begins on Saturday.
    expect(spans(of('20260117N'))).toEqual([['2026-01-17T00:00', '2026-01-17T06:00']]);
  });

  it('lasts as long as it did on a day when the clock was set', () => {
    // Lisbon: clocks go back at 02:00 of the 25th of October 2025, and forward at 01:00 of the 29th of March 2026. Both are Sundays.
    const all = { shifts: shifts.map((shift) => ({ ...shift, days: daily })) };
    expect(spans(of('20251026N', all))).toEqual([['2025-10-26T22:00', '2025-10-27T00:00'], ['2025-10-25T23:00', '2025-10-26T06:00']]);
    expect(spans(of('20260329N', all))).toEqual([['2026-03-29T21:00', '2026-03-29T23:00'], ['2026-03-29T00:00', '2026-03-29T05:00']]);
    expect(spans(of('20260329E', all))).toEqual([['2026-03-29T05:00', '2026-03-29T13:00']]);
    // Some clocks change at midnight: the first hour of that day is not there.
    expect(spans(of('20250907N', { ...all, timeZone: 'America/Santiago' }))).toEqual([['2025-09-08T01:00', '2025-09-08T03:00'], ['2025-09-07T04:00', '2025-09-07T09:00']]);
    // A shift that ends inside the repeated hour ends twice: both may be meant.
    const short = { shifts: [{ name: 'Z', beginMinute: 0, endMinute: 90, days: daily }] };
    expect(spans(of('20251026Z', short))).toEqual([['2025-10-26T01:00', '2025-10-26T01:30'], ['2025-10-25T23:00', '2025-10-26T00:30']]);
    expect(of('20251026Z', short).map(({ cautions }) => cautions)).toEqual([['clock-set-back'], ['clock-set-back']]);
  });

  it('takes a part of the hour only where the shift changes inside it', () => {
    const half = { shifts: [{ name: 'Early', beginMinute: 390, endMinute: 840, days: daily }] };
    expect(spans(read('{year}{month}{day}{hour}{shift}', '2026011306E', half).meanings)).toEqual([['2026-01-13T06:30', '2026-01-13T07:00']]);
    expect(read('{year}{month}{day}{hour}{shift}', '2026011306E', half).meanings[0]?.precision).toBe('hour');
  });

  it('that speaks against the time, or that no shift goes by, narrows nothing and says so', () => {
    expect(read('{year}{month}{day}{hour}{shift}', '2026011315E', { shifts }).meanings).toMatchObject([{ cautions: ['shift-differs'], precision: 'hour' }]);
    expect(spans(of('20260118N'))).toEqual([['2026-01-18T00:00', '2026-01-19T00:00']]);
    expect(of('20260118N')).toMatchObject([{ cautions: ['shift-differs'], precision: 'day' }]);
    expect(of('20260113Q')).toMatchObject([{ cautions: ['shift-unknown'], precision: 'day' }]);
  });

  it('is the name, else a word of it, else its first letter; all shifts of that letter count', () => {
    const named = (...names: string[]) => names.map((name, i) => ({ name, beginMinute: i * 60, endMinute: i * 60 + 60, days: daily }));
    expect(shiftsOfLetter(named('a', 'Shift A', 'Afternoon'), 'A').map(({ name }) => name)).toEqual(['a']);
    expect(shiftsOfLetter(named('Shift A', 'Shift B', 'Afternoon'), 'A').map(({ name }) => name)).toEqual(['Shift A']);
    expect(shiftsOfLetter(named('Early', 'Early weekend', 'Late'), 'E').map(({ name }) => name)).toEqual(['Early', 'Early weekend']);
    expect(shiftsOfLetter(named('1', '2'), 'A')).toEqual([]);
    expect(letterOfShift(named('Shift A', 'Shift B'), 'Shift B')).toBe('B');
    expect(letterOfShift(named('Early', 'Evening'), 'Early')).toBeNull();
    expect(letterOfShift(named('Early', 'Late'), 'Late')).toBe('L');
  });

  it('reads back what was printed in any shift, on any day of the clock', () => {
    const text = '{year:2}{day-of-year}{shift}';
    fc.assert(fc.property(fc.integer({ min: at('2019-01-01T00:00Z'), max: at('2026-05-31T00:00Z') }), fc.constantFrom(...zones), (moment, timeZone) => {
      const all = shifts.map((shift) => ({ ...shift, days: daily }));
      const shift = letterOfShift(all, shiftAt(all, moment, timeZone) ?? '');
      const code = printCode(pattern(text), moment, timeZone, { line: 'L1', lane: null, machine: null, unit: null, shift });
      const { meanings } = read(text, code ?? '', { timeZone, before: moment + 60_000, shifts: all });
      expect(meanings.some(({ from, until }) => from <= moment && moment < until), `${code} ${new Date(moment).toISOString()} ${timeZone}`).toBe(true);
      expect(meanings.every(({ from, until }) => until - from <= 9 * 3_600_000)).toBe(true);
    }), { numRuns: 300 });
  });
});
