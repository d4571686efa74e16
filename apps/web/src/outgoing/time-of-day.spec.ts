import { expect, it } from 'vitest';
import { minutesOf, spanOf, timeOf } from './time-of-day.js';

it('reads and writes times of day', () => {
  expect([minutesOf('00:00'), minutesOf('22:30'), minutesOf('24:00'), minutesOf('')]).toEqual([0, 1350, null, null]);
  expect([timeOf(0), timeOf(1350), timeOf(undefined)]).toEqual(['00:00', '22:30', '']);
  expect([spanOf('22:00', '06:00'), spanOf('22:00', '')]).toEqual([{ from: 1320, until: 360 }, null]);
});
