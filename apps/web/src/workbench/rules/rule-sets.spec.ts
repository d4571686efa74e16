import { expect, it } from 'vitest';
import { START } from '../choices.js';
import { ALL_RULES, RULE_SETS, ruleSetOf, toggled } from './rule-sets.js';

it('knows a set by its rules, in whatever order', () => {
  expect(ruleSetOf(START.rules)).toBe('zones');
  expect(ruleSetOf(['beyond-limits'])).toBe('beyond-limits');
  expect(ruleSetOf([...RULE_SETS.nelson].reverse())).toBe('nelson');
  expect(RULE_SETS.nelson).toHaveLength(8);
  expect(ruleSetOf([])).toBe('own');
  expect(ruleSetOf([...RULE_SETS.zones, 'six-in-a-trend'])).toBe('own');
});

it('takes a rule in and out again', () => {
  for (const rule of ALL_RULES) expect(toggled(toggled(RULE_SETS.zones, rule), rule)).toEqual(RULE_SETS.zones);
  expect(toggled(['beyond-limits'], 'six-in-a-trend')).toEqual(['beyond-limits', 'six-in-a-trend']);
});
