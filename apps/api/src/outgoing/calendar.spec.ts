import { expect, it } from 'vitest';
import { foldLine, writeCalendar } from './calendar.js';

// RFC 5545, Internet Calendaring and Scheduling Core Object Specification (iCalendar), section numbers beside each check.
const event = { uid: 'plan-1-2-3', start: new Date('2026-03-02T08:00:00Z'), end: new Date('2026-03-02T08:15:00Z'), changed: new Date('2026-03-02T07:00:30.500Z'), summary: 'Seam, teardown; head\\1\nnow', description: 'Überlappung '.repeat(30) };
const written = writeCalendar('Prüfungen, Werk', [event]);
const unfolded = written.replace(/\r\n[ \t]/g, '').split('\r\n');

it('ends every line with CRLF and folds at 75 octets, characters whole (3.1)', () => {
  expect(written.endsWith('END:VCALENDAR\r\n')).toBe(true);
  expect(written.replace(/\r\n/g, '')).not.toMatch(/[\r\n]/);
  for (const line of written.split('\r\n')) {
    expect(Buffer.byteLength(line), line).toBeLessThanOrEqual(75);
    expect(line).not.toContain('\ufffd');
  }
  expect(unfolded).toContain(`DESCRIPTION:${event.description}`);
  expect(foldLine('x'.repeat(75))).toBe('x'.repeat(75));
  expect(foldLine('x'.repeat(76))).toBe(`${'x'.repeat(75)}\r\n x`);
  expect(foldLine(`${'x'.repeat(74)}ü`)).toBe(`${'x'.repeat(74)}\r\n ü`);
  // A continued line has its leading space among the 75.
  expect(foldLine('x'.repeat(150))).toBe(`${'x'.repeat(75)}\r\n ${'x'.repeat(74)}\r\n x`);
});

it('escapes backslash, semicolon, comma and line break in texts (3.3.11)', () => {
  expect(unfolded).toContain('SUMMARY:Seam\\, teardown\\; head\\\\1\\nnow');
});

it('has what a calendar and an event must have, times in UTC (3.3.5, 3.4, 3.6.1, 3.7.3, 3.7.4, 3.8.4.7, 3.8.7.2)', () => {
  expect(unfolded.slice(0, 3)).toEqual(['BEGIN:VCALENDAR', 'VERSION:2.0', 'PRODID:-//Seamledger//Due checks//EN']);
  for (const line of ['UID:plan-1-2-3@seamledger.invalid', 'DTSTAMP:20260302T070030Z', 'DTSTART:20260302T080000Z', 'DTEND:20260302T081500Z']) expect(unfolded).toContain(line);
  expect(unfolded.filter((line) => line === 'BEGIN:VEVENT')).toHaveLength(1);
  expect(writeCalendar('Empty', []).split('\r\n').filter((line) => /^(BEGIN|END):/.test(line))).toEqual(['BEGIN:VCALENDAR', 'END:VCALENDAR']);
});
