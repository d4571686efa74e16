import { expect, it } from 'vitest';
import { conversionsOf, draftsOf, factorOf } from './conversions.js';

it('takes a factor with point or comma, and nothing that is not above zero', () => {
  expect(factorOf('25.4')).toBe(25.4);
  expect(factorOf(' 0,001 ')).toBe(0.001);
  for (const text of ['', '0', '-1', '1e3', '1.2.3', 'x', '99999999999']) expect(factorOf(text)).toBeNull();
});

it('uses only conversions that are complete', () => {
  expect(conversionsOf([{ id: 0, from: ' in ', to: 'mm', factor: '25.4' }, { id: 1, from: 'um', to: '', factor: '0.001' }, { id: 2, from: 'um', to: 'mm', factor: '' }])).toEqual([{ from: 'in', to: 'mm', factor: 25.4 }]);
});

it('shows remembered conversions as they were typed', () => {
  const conversions = [{ from: 'in', to: 'mm', factor: 25.4 }];
  expect(conversionsOf(draftsOf(conversions))).toEqual(conversions);
});
