import { expect, it } from 'vitest';
import { readLogView, writeLogView } from './log.url.js';

it('keeps the choice through the address', () => {
  const view = { machine: 4, plan: 3, product: null, units: [12, 7] };
  expect(writeLogView(view).toString()).toBe('machine=4&plan=3&units=12%2C7');
  expect(writeLogView({ ...view, units: [] }).toString()).toBe('machine=4&plan=3');
  expect(readLogView(writeLogView(view))).toEqual(view);
});

it('takes what is no id as no choice', () => {
  expect(readLogView(new URLSearchParams('machine=SE1&plan=-2&product=1.5&units=H1,0,7,7,'))).toEqual({ machine: null, plan: null, product: null, units: [7] });
});
