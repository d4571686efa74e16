import { expect, it } from 'vitest';
import { unitInName, unitKey } from './units-of-measure.js';

it('finds the unit of measure in the name of a column', () => {
  expect(unitInName('Body hook [mm]')).toEqual({ name: 'Body hook', unit: 'mm' });
  expect(unitInName('overlap (µm)')).toEqual({ name: 'overlap', unit: 'µm' });
  expect(unitInName('overlap front mm')).toEqual({ name: 'overlap front', unit: 'mm' });
  expect(unitInName('stripe film (g/m²)')).toEqual({ name: 'stripe film', unit: 'g/m²' });
  expect(unitInName('voids (drops)', ['drops'])).toEqual({ name: 'voids', unit: 'drops' });
});

it('leaves a place in brackets and words that only look like a unit in the name', () => {
  for (const name of ['thickness (front)', 'beside weld', 'rolled in', 'head A', '90°', 'mm', '[mm]', '(', 'x [ ]']) expect(unitInName(name)).toEqual({ name, unit: null });
});

it('knows the ways of writing one unit', () => {
  for (const text of ['µm', 'μm', 'um', 'Micron', 'micrometres']) expect(unitKey(text)).toBe('μm');
  expect(unitKey('MM')).toBe('mm');
  expect(unitKey('inches')).not.toBe(unitKey('mm'));
});
