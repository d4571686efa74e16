import { expect, it } from 'vitest';
import { overlappingShifts, type Shift, shiftAt } from './shifts.js';

const ZONE = 'Europe/Lisbon';
const week = [1, 2, 3, 4, 5];
const early: Shift = { name: 'Early', beginMinute: 360, endMinute: 840, days: week };
const late: Shift = { name: 'Late', beginMinute: 840, endMinute: 1320, days: week };
const night: Shift = { name: 'Night', beginMinute: 1320, endMinute: 360, days: [...week, 7] };
const at = (iso: string) => shiftAt([early, late, night], Date.parse(iso), ZONE);

it('says who was on by the clocks of the plant, in summer and winter alike, the end not included', () => {
  expect(at('2026-07-08T05:00:00Z')).toBe('Early');
  expect(at('2026-12-09T05:59:00Z')).toBe('Night');
  expect(at('2026-12-09T06:00:00Z')).toBe('Early');
  expect(at('2026-12-09T14:00:00Z')).toBe('Late');
});

it('lets a night belong to the day on which it begins, over the end of the week as well', () => {
  expect(at('2026-12-12T03:00:00Z')).toBe('Night'); // Saturday, the night of Friday
  expect(at('2026-12-13T03:00:00Z')).toBeNull(); // Sunday, no night begins on Saturday
  expect(at('2026-12-14T03:00:00Z')).toBe('Night'); // Monday, the night of Sunday
  expect(shiftAt([], Date.parse('2026-12-14T03:00:00Z'), ZONE)).toBeNull();
});

it('finds shifts that are on at the same time, also over midnight and over Sunday', () => {
  expect(overlappingShifts([early, late, night])).toBeNull();
  expect(overlappingShifts([early, { ...late, beginMinute: 839 }])).toEqual({ first: 0, second: 1 });
  expect(overlappingShifts([night, { name: 'Monday', beginMinute: 300, endMinute: 420, days: [1] }])).toEqual({ first: 0, second: 1 });
  expect(overlappingShifts([night, { name: 'Sunday', beginMinute: 300, endMinute: 420, days: [7] }])).toBeNull();
});
