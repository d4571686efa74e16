import { expect, it } from 'vitest';
import { defectOfSignal, defectsShownBy } from './defect-of-signal.js';
import { likelyOrigins } from './likely-origins.js';
import { findDefect } from './taxonomy.js';

const measured = ['weld-overlap', 'weld-thickness', 'stripe-film', 'flange-width', 'seam-thickness', 'free-space', 'seam-length', 'body-hook', 'body-hook-butting', 'cover-hook', 'countersink', 'tightness', 'seam-overlap', 'percent-overlap'];

it('names a defect of the taxonomy that shows in the characteristic, wherever it names one', () => {
  for (const code of measured) {
    const named = (['above', 'below'] as const).flatMap((side) => defectOfSignal(code, side) ?? []);
    expect(named.length, code).toBeGreaterThan(0);
    for (const defect of named) {
      expect(findDefect(defect), defect).not.toBeNull();
      expect(likelyOrigins(defect).some(({ characteristics }) => characteristics.includes(code)), `${defect} by ${code}`).toBe(true);
    }
  }
});

it('tells the sides apart, and leaves to people what has no usual name', () => {
  expect([defectOfSignal('body-hook', 'below'), defectOfSignal('body-hook', 'above')]).toEqual(['short-body-hook', 'long-body-hook']);
  expect([defectOfSignal('countersink', 'below'), defectOfSignal('body-hook', 'both'), defectOfSignal('label-height', 'above')]).toEqual([null, null, null]);
});

it('lists what a characteristic can tell of, the strongest tie first', () => {
  const shown = defectsShownBy('stripe-film');
  expect(shown[0]).toBe('thin-stripe');
  expect(shown).not.toContain('leaker');
  expect(defectsShownBy('label-height')).toEqual([]);
});
