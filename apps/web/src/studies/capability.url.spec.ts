import { expect, it } from 'vitest';
import { type CapabilityView, changeCapabilityView, readCapabilityUrl, shiftDay, writeCapabilityUrl } from './capability.url.js';

it('reads back what it wrote', () => {
  const view: CapabilityView = { product: 1, machine: 22, characteristic: 3, unit: 4, lane: 5, from: '2026-02-01', to: '2026-03-31', row: 'pooled' };
  expect(readCapabilityUrl(writeCapabilityUrl(view))).toEqual(view);
  expect(readCapabilityUrl(writeCapabilityUrl({ row: 17 }))).toEqual({ row: 17 });
  expect(writeCapabilityUrl({}).toString()).toBe('');
});

it('leaves out what is no id and no day, and keeps the rest', () => {
  expect(readCapabilityUrl(new URLSearchParams('product=0&machine=-2&characteristic=x&unit=7&from=2026-02-30&to=2026-2-1&row=worst'))).toEqual({ unit: 7 });
});

it('forgets head, span and row with another machine, and only the row with another head', () => {
  const view: CapabilityView = { product: 1, machine: 2, characteristic: 3, unit: 4, from: '2026-01-01', to: '2026-02-01', row: 9 };
  expect(changeCapabilityView(view, { machine: 5 })).toEqual({ product: 1, machine: 5, characteristic: 3 });
  expect(changeCapabilityView(view, { unit: undefined })).toEqual({ product: 1, machine: 2, characteristic: 3, unit: undefined, from: '2026-01-01', to: '2026-02-01' });
  expect(changeCapabilityView(view, { to: '2026-01-15' })).toEqual({ ...view, to: '2026-01-15' });
});

it('shifts days over the ends of months and years', () => {
  expect([shiftDay('2026-02-28', 1), shiftDay('2028-02-28', 1), shiftDay('2026-01-01', -1), shiftDay('2026-03-31', -30)]).toEqual(['2026-03-01', '2028-02-29', '2025-12-31', '2026-03-01']);
});
