import '../../shared/messages/catalogue.js';
import i18next from 'i18next';
import { expect, it } from 'vitest';
import { makeFormat } from '../../shared/format.js';
import { axisName, type Ground, panelWords, pointName, saysOf } from './panel-words.js';
import type { SignalGroup } from './signal-groups.js';
import { groupSentence } from './signal-sentence.js';
import type { Panel } from './workbench-chart.figure.js';

const t = i18next.getFixedT('en', 'workbench');
const ground: Ground = { decimals: 2, unit: 'mm', names: ['K1', '', '<b>K3</b>'], format: makeFormat('UTC') };
const panel: Panel = {
  statistic: 'mean', points: [1.25, null, 1.5], centre: [1.2, 1.2, 1.2], lower: [null, null, null], upper: [1.4, 1.4, 1.4], sigma: [0.07, 0.07, 0.07], out: [], rules: ['beyond-limits'],
  firings: [{ index: 2, rule: 'beyond-limits', side: 'above', firstIndex: 2 }, { index: 2, rule: 'two-of-three', side: 'above', firstIndex: 0 }],
};
const group = (given: Partial<SignalGroup>): SignalGroup => ({ panel: 0, rule: 'beyond-limits', side: 'above', first: 2, fired: 2, last: 2, count: 1, ...given });
const sentence = (given: Partial<SignalGroup>) => groupSentence(t, group(given), panel, saysOf(panel, ground));

it('says what each rule saw, with value, limit and unit', () => {
  expect(sentence({})).toBe('1.500 mm is above the upper limit 1.400 mm.');
  expect(sentence({ first: 0, count: 3 })).toBe('3 points in a row above the upper limit 1.400 mm; the last one is 1.500 mm.');
  expect(sentence({ rule: 'two-of-three', first: 0 })).toBe('Two of three in a row more than two sigma above the centre line 1.200 mm; the last one is 1.500 mm.');
  expect(sentence({ rule: 'eight-in-a-row', first: 0 })).toBe('2 in a row above the centre line 1.200 mm; the last one is 1.500 mm.');
  expect(sentence({ rule: 'six-in-a-trend', side: 'below', first: 0 })).toBe('2 in a row falling, down to 1.500 mm.');
  expect(sentence({ rule: 'fifteen-inside', side: 'both' })).toMatch(/within one sigma of the centre line 1\.200 mm/);
  for (const rule of ['four-of-five', 'nine-in-a-row', 'fourteen-alternating', 'eight-outside'] as const) expect(sentence({ rule, side: rule === 'four-of-five' || rule === 'nine-in-a-row' ? 'below' : 'both' }), rule).toMatch(/^[A-Z0-9][^{}]*\.$/);
});

it('reads a point out with its limits and rules, and takes typed names for text, not for markup', () => {
  const words = panelWords(t, ground, panel);
  expect(words.read(0)).toBe('Mean 1.250 mm, limits none to 1.400 mm');
  expect(words.read(1)).toBe('Mean missing');
  expect(words.read(2)).toBe('Mean 1.500 mm, limits none to 1.400 mm, signal: one point beyond the limits, signal: two of three beyond two sigma on one side');
  expect(words.point(2)).toContain('Point 3, &lt;b&gt;K3&lt;/b&gt;<br>');
  expect([words.axis, words.upper(1.4)]).toEqual(['Mean (mm)', 'UL 1.400']);
  expect([pointName(t, ground.names, 0), pointName(t, ground.names, 1), pointName(t, null, 4)]).toEqual(['Point 1, K1', 'Point 2', 'Point 5']);
});

it('gives counts and shares no unit of length', () => {
  const shares = { ...panel, statistic: 'p' as const };
  expect(panelWords(t, ground, shares).axis).toBe('Share defective');
  expect(saysOf(shares, ground)(0.0123)).toBe('0.0123');
  expect(axisName(t, { kind: 'p', panels: [shares], notes: [], estimates: {} })).toBe('Sample');
});
