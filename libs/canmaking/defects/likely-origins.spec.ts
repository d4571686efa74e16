import { expect, it } from 'vitest';
import { stepOrder } from '../line/steps.js';
import { cautionFor } from './cautions.js';
import { likelyOrigins, originsByPlace } from './likely-origins.js';
import { defects, leakPlaces } from './taxonomy.js';

const sets = [
  ...defects.map(({ code }) => ({ name: code, origins: likelyOrigins(code) })),
  ...leakPlaces.map((place) => ({ name: place, origins: originsByPlace(place) })),
];

it.each(sets)('weighs the origins of $name: each above zero, together one, no step and unit twice', ({ origins }) => {
  expect(origins.length).toBeGreaterThan(0);
  for (const { weight } of origins) expect(weight).toBeGreaterThan(0);
  expect(origins.reduce((sum, { weight }) => sum + weight, 0)).toBeCloseTo(1, 12);
  const keys = origins.map(({ step, units }) => `${step}/${units}`);
  expect(new Set(keys).size).toBe(keys.length);
});

it('names the same steps as the taxonomy does', () => {
  // Neither of these two begins at one step of a line: pressure at the packer, and a leak that may be anywhere.
  for (const { code, upstreamSteps } of defects.filter((defect) => !['peaked-end', 'leaker'].includes(defect.code))) {
    expect([...new Set(likelyOrigins(code).map(({ step }) => step))], code).toEqual([...upstreamSteps]);
  }
  const leaker = likelyOrigins('leaker').map(({ step }) => step);
  for (const step of ['body-maker', 'flanger', 'seamer', 'tester'] as const) expect(leaker).toContain(step);
});

it('gives nothing for a code that is not in the taxonomy', () => {
  expect(likelyOrigins('cold weld')).toEqual([]);
  expect(likelyOrigins('constructor')).toEqual([]);
});

it('never blames a step after the place of the leak for a weld', () => {
  for (const { step } of originsByPlace('side seam')) expect(stepOrder(step)).toBeLessThanOrEqual(stepOrder('stripe-applicator'));
  expect(originsByPlace("double seam, packer's end").some(({ step }) => step === 'seamer')).toBe(false);
  expect(originsByPlace('unknown')).toEqual(likelyOrigins('leaker'));
});

it('says of every defect what it may mean for cans already made, and who decides', () => {
  const texts = defects.map(({ code }) => cautionFor(code));
  for (const [index, text] of texts.entries()) {
    expect(text, defects[index]?.code).toMatch(/process authority/);
    // It informs and never tells anybody to release, or that something is safe.
    expect(text, defects[index]?.code).not.toMatch(/\b(?:is|are) (?:safe|good|harmless)\b|may be released|can be released/);
  }
  expect(new Set(texts).size).toBe(defects.length);
  expect(cautionFor('constructor')).toBeNull();
});
