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

it('knows the hour that the clocks skip from the one that they show twice', () => {
  // 29 March 2026: 01:00 becomes 02:00 in Lisbon; 25 October: 02:00 becomes 01:00.
  expect(lisbon.momentsOf('2026-03-29T01:30')).toEqual([]);
  expect(lisbon.fromInput('2026-03-29T01:30')).toBeNull();
  expect(lisbon.fromInput('2026-03-29T02:00')).toBe('2026-03-29T01:00:00.000Z');
  expect(lisbon.momentsOf('2026-10-25T01:30')).toEqual(['2026-10-25T00:30:00.000Z', '2026-10-25T01:30:00.000Z']);
  expect(lisbon.fromInput('2026-10-25T01:30')).toBe('2026-10-25T00:30:00.000Z');
  expect(lisbon.momentsOf('2026-10-25T02:00')).toEqual(['2026-10-25T02:00:00.000Z']);
  expect(makeFormat('Australia/Lord_Howe').momentsOf('2026-04-05T01:45')).toEqual(['2026-04-04T14:45:00.000Z', '2026-04-04T15:15:00.000Z']);
  expect(makeFormat('UTC').momentsOf('2026-03-29T01:30')).toEqual(['2026-03-29T01:30:00.000Z']);
  expect(lisbon.momentsOf('soon')).toEqual([]);
});

it('begins a day at its first minute, also where the clocks skip midnight', () => {
  expect(makeFormat('Africa/Cairo').fromInput('2026-04-24T00:00')).toBe('2026-04-23T22:00:00.000Z');
  expect(makeFormat('Africa/Cairo').fromInput('2026-04-24T00:30')).toBeNull();
});

it('writes the decimals of the gauge, and a dash where there is no value; zero is a value', () => {
  expect(lisbon.number(1.5, 3)).toBe('1.500');
  expect(lisbon.withUnit(0, 2, 'mm')).toBe('0.00 mm');
  expect(lisbon.withUnit(null, 2, 'mm')).toBe('–');
});

it('writes a minus as a minus, and none before what rounds to zero', () => {
  expect(lisbon.number(-0.1234, 3)).toBe('−0.123');
  expect(lisbon.withUnit(-12_345.6, 1, 'N')).toBe('−12,345.6 N');
  expect([lisbon.number(-0.0004, 2), lisbon.number(-0, 0)]).toEqual(['0.00', '0']);
});
