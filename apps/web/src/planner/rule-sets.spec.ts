import { expect, it } from 'vitest';
import { CHARTS, choiceOf, schemeOf, toggled } from './rule-sets.js';

it('knows each choice again that it began', () => {
  const own = { kind: 'rules', rules: ['six-in-a-trend'] } as const;
  for (const choice of CHARTS) expect(choiceOf(schemeOf(choice, { ...own, rules: [...own.rules] }))).toBe(choice);
  expect(choiceOf({ kind: 'rules', rules: ['eight-in-a-row', 'four-of-five', 'beyond-limits', 'two-of-three'] })).toBe('zones');
});

it('adds and takes away one rule, and keeps the last', () => {
  expect(toggled(['eight-in-a-row'], 'beyond-limits')).toEqual(['beyond-limits', 'eight-in-a-row']);
  expect(toggled(['beyond-limits', 'eight-in-a-row'], 'beyond-limits')).toEqual(['eight-in-a-row']);
  expect(toggled(['eight-in-a-row'], 'eight-in-a-row')).toEqual(['eight-in-a-row']);
});
