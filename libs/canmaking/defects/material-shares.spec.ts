import { expect, it } from 'vitest';
import { stepKinds } from '../line/steps.js';
import { materialOf, materialShare, materials } from './material-shares.js';
import { defects } from './taxonomy.js';

it('leaves the greater part of what begins at a step to its machine, but for defects that the material itself makes', () => {
  const byMaterial = new Set(['weld-contamination', 'compound-squeeze-out', 'peaked-end']);
  for (const { code } of defects) {
    for (const step of stepKinds) {
      const sum = materials.reduce((total, material) => total + materialShare(code, step, material), 0);
      expect(sum, `${code} at ${step}`).toBeGreaterThanOrEqual(0);
      expect(sum, `${code} at ${step}`).toBeLessThan(byMaterial.has(code) ? 0.8 : 0.5);
    }
  }
});

it('gives no share to a material that the step does not take in', () => {
  expect(materialShare('loose-seam', 'flanger', 'ends')).toBe(0);
  expect(materialShare('cold-weld', 'seamer', 'plate')).toBe(0);
  expect(materialShare('loose-seam', 'seamer', 'ends')).toBeGreaterThan(materialShare('skid', 'seamer', 'ends'));
  expect(materialShare('constructor', 'seamer', 'ends')).toBe(materialShare('leaker', 'seamer', 'ends'));
});

it('reads an entry by the step where it stands', () => {
  expect(materialOf('coil-change', 'seamer')).toBe('ends');
  expect(materialOf('coil-change', 'body-maker')).toBe('plate');
  expect(materialOf('coil-change', 'flanger')).toBeNull();
  expect(materialOf('lacquer-change', 'stripe-applicator')).toBe('lacquer');
  expect(materialOf('stop', 'seamer')).toBeNull();
});
