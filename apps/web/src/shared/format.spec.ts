import { expect, it } from 'vitest';
import { makeFormat } from './format.js';

const lisbon = makeFormat('Europe/Lisbon');

it('shows moments in the zone of the plant, not of the browser', () => {
  expect(lisbon.wall('2026-07-01T08:30:00Z')).toBe('2026-07-01T09:30:00');
  expect(lisbon.toInput('2026-01-01T08:30:00Z')).toBe('2026-01-01T08:30');
});

it('reads what a person typed as the plant clock shows it, in summer and in winter', () => {
  expect(lisbon.fromInput('2026-07-01T09:30')).toBe('2026-07-01T08:30:00.000Z');
  expect(lisbon.fromInput('2026-01-01T08:30')).toBe('2026-01-01T08:30:00.000Z');
  expect(makeFormat('America/New_York').fromInput('2026-07-01T09:30')).toBe('2026-07-01T13:30:00.000Z');
  expect(lisbon.fromInput('soon')).toBeNull();
});

it('writes the decimals of the gauge, and a dash where there is no value; zero is a value', () => {
  expect(lisbon.number(1.5, 3)).toBe('1.500');
  expect(lisbon.withUnit(0, 2, 'mm')).toBe('0.00 mm');
  expect(lisbon.withUnit(null, 2, 'mm')).toBe('–');
});
