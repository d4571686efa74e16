import { expect, it } from 'vitest';
import { compareEffect, effectValues } from './compare-effect.js';
import type { EffectSubgroup } from './effect-readings.store.js';

const limits = { kind: 'i-mr' as const, centre: 10, sigma: 1, spreadCentre: 1.128, subgroups: 25, readings: 25 };
const chart = { chartKind: 'i-mr' as const, rules: ['beyond-limits', 'eight-in-a-row'] as const };
const own = { ...chart, rules: [...chart.rules] };
const span = (values: readonly number[], from: number, judged = true): EffectSubgroup[] => values.map((mean, place) => ({
  at: new Date(Date.UTC(2026, 2, 1, from + place)), n: 1, mean, range: null, sd: null, readings: [mean], positions: 1, formula: null, limitsId: judged ? 1 : null, limits: judged ? limits : null,
}));
const asked = { basis: 'subgroups' as const, expected: 'lower' as const };
// Around the centre, on both sides, within one and a half sigma.
const steady = [9.6, 10.3, 9.9, 10.8, 9.2, 10.1, 9.7, 10.5, 9.4, 10.2, 9.8, 10.6];
const high = steady.map((value) => value + 1.4);

it('lets no pattern of the time before reach into the time after', () => {
  const answer = compareEffect(span(high, 0), span([10.4, ...steady], 12), asked, own, 0);
  expect(answer.before.signalled).toBeGreaterThan(0);
  expect(answer.after).toMatchObject({ judged: 13, signalled: 0, notJudged: 0 });
  expect(answer.afterControl).toBe('in-control');
  expect(answer.welch?.high).toBeLessThan(0);
  expect(answer.cautions).toEqual(expect.arrayContaining(['not-proof', 'few-values']));
  expect(answer.cautions).not.toContain('no-difference-seen');
});

it('says when no difference was seen, the other way was taken, or the time after is not in control', () => {
  const same = compareEffect(span(steady, 0), span(steady, 12), { ...asked, expected: 'higher' }, own, 3);
  expect(same.cautions).toEqual(expect.arrayContaining(['no-difference-seen', 'other-events']));
  expect(same.welch?.difference).toBeCloseTo(0, 12);
  const worse = compareEffect(span(steady, 0), span([...high, 14.5], 12), asked, own, 0);
  expect(worse.afterControl).toBe('signals');
  expect(worse.cautions).toEqual(expect.arrayContaining(['other-way', 'after-signals']));
  const blind = compareEffect(span(steady, 0), span(steady, 12, false), asked, own, 0);
  expect([blind.afterControl, blind.cautions.includes('after-not-judged')]).toEqual(['not-judged', true]);
});

it('gives no figure where nothing varies, and refuses a side of one value', () => {
  const flat = compareEffect(span([10, 10, 10], 0), span([10, 10, 10], 12), asked, own, 0);
  expect([flat.welch, flat.ranks, flat.size]).toEqual([null, null, null]);
  expect(flat.cautions).toContain('no-variation');
  expect(() => compareEffect(span([10], 0), span(steady, 12), asked, own, 0)).toThrow(RangeError);
});

it('takes the mean of each can, without the readings that are missing', () => {
  const group = { ...(span([10], 0)[0] as EffectSubgroup), n: 3, readings: [1, 2, null, 4, null, null], positions: 2, mean: 2.75 };
  expect(effectValues([group], 'cans')).toEqual([1.5, 4]);
  expect(effectValues([group, { ...group, mean: null }], 'subgroups')).toEqual([2.75]);
});
