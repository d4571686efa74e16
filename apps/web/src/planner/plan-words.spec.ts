import { beforeAll, expect, it } from 'vitest';
import i18next, { type TFunction } from 'i18next';
import '../shared/messages/catalogue.js';
import { makeFormat } from '../shared/format.js';
import { cans, duration, rough } from './plan-words.js';

const format = makeFormat('Europe/Lisbon');
let t: TFunction<'planner'>;
beforeAll(() => { t = i18next.getFixedT('en', 'planner'); });

it('writes three digits of any figure', () => {
  expect([0.01234, 1.016, 45.678, 123.4, 9999, 1_234_567].map((value) => rough(format, value))).toEqual(['0.01', '1.02', '45.7', '123', '10,000', '1,230,000']);
});

it('says durations in minutes, hours or days of running', () => {
  expect([30, 119, 300, 48 * 60].map((minutes) => duration(t, format, minutes, 24))).toEqual(['30.0 min', '119 min', '5.00 h', '2.00 d']);
  expect(duration(t, format, 7 * 8 * 60, 8)).toBe('7.00 d');
  expect([duration(t, format, null, 24), cans(t, format, null)]).toEqual(['beyond counting', 'beyond counting']);
  expect(cans(t, format, 7421.6)).toBe('7420 cans');
});
