import { expect, it } from 'vitest';
import { lookupOf, nameKey } from './names.js';

it('finds by code and by name, whatever the case and the spaces', () => {
  const lookup = lookupOf([{ code: 'SM1', name: 'Seamer 1', value: 1 }]);
  expect(lookup.get(nameKey(' sm1 '))).toBe(1);
  expect(lookup.get(nameKey('SEAMER  1'))).toBe(1);
  expect(lookup.get(nameKey('Seamer 2'))).toBeUndefined();
});

it('names neither of two things that are called the same', () => {
  const lookup = lookupOf([{ code: 'SM1', name: 'Seamer', value: 1 }, { code: 'SM2', name: 'Seamer', value: 2 }, { code: 'SM3', name: 'Seamer', value: 3 }]);
  expect(lookup.get('seamer')).toBeNull();
  expect(lookup.get('sm2')).toBe(2);
});

it('prefers a code to a name, and takes codes that differ in case only as the same', () => {
  expect(lookupOf([{ code: 'A', name: 'B', value: 1 }, { code: 'B', name: 'C', value: 2 }]).get('b')).toBe(2);
  expect(lookupOf([{ code: 'h1', value: 1 }, { code: 'H1', value: 2 }]).get('h1')).toBeNull();
});
