import { expect, it } from 'vitest';
import { makeFormat } from '../shared/format.js';
import { packMoments, readPacksUrl, writePacksUrl } from './packs.url.js';

const format = makeFormat('Europe/Lisbon');
const customers = [{ customer: 'None yet', products: [{ id: 9 }], last: null }, { customer: 'Blue Mill', products: [{ id: 1 }, { id: 2 }], last: '2026-05-10T23:30:00Z' }];

it('takes the customer that was measured, all products and ninety days by the plant’s clocks where the address says nothing', () => {
  expect(readPacksUrl(new URLSearchParams(), customers, format)).toEqual({ customer: 'Blue Mill', products: [1, 2], studies: [], from: '2026-02-11', to: '2026-05-11' });
});

it('reads back what it wrote, and leaves out products of somebody else', () => {
  const view = { customer: 'Blue Mill', products: [2], studies: [5], from: '2026-03-01', to: '2026-03-31' };
  expect(readPacksUrl(writePacksUrl(new URLSearchParams(), view), customers, format)).toEqual(view);
  expect(readPacksUrl(writePacksUrl(new URLSearchParams(), { ...view, products: [9] }), customers, format).products).toEqual([]);
});

it('makes whole days of the plant, and none where they are in the wrong order', () => {
  // The clocks of Lisbon went forward on 29 March 2026.
  expect(packMoments({ from: '2026-03-01', to: '2026-03-31' }, format)).toEqual({ from: '2026-03-01T00:00:00.000Z', to: '2026-03-31T23:00:00.000Z' });
  expect(packMoments({ from: '2026-04-01', to: '2026-03-01' }, format)).toBeNull();
});
