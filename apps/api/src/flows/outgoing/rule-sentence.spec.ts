import { expect, it } from 'vitest';
import { firingSide, ruleName } from '#contract/rule-names';
import { ruleSentence } from './rule-sentence.js';

it('says what each rule saw, in words and without its code', () => {
  for (const rule of ruleName.options) for (const side of firingSide.options) expect(ruleSentence(rule, side)).toMatch(/^[A-Z][a-z]+ (of [a-z]+ )?points? .+[a-z]$/);
  expect(ruleSentence('beyond-limits', 'below')).toBe('One point is below the lower control limit');
  expect(ruleSentence('eight-in-a-row', 'above')).toBe('Eight points in a row are above the centre line');
  expect(ruleSentence('six-in-a-trend', 'below')).toBe('Six points in a row are each lower than the one before');
});
