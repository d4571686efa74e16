import { expect, it } from 'vitest';
import { agrees, agreesExactly } from '../../../test/published/agrees.js';
import flow from '../../../test/published/flow-width.json' with { type: 'json' };
import { baselineLimits } from '../charts/limits.js';
import { subgroupStatistics } from '../charts/subgroup.js';
import { studyLimits } from './study-limits.js';

const steady = flow.subgroups.map((readings) => subgroupStatistics(readings));
/** Flow width with subgroup 5 moved up a long way and subgroup 9 a little: 9 is hidden while 5 widens nothing but the centre. */
const disturbed = flow.subgroups.map((readings, i) => subgroupStatistics(readings.map((value) => value + (i === 4 ? 0.9 : i === 8 ? 0.215 : 0))));

it('a baseline in control settles at once', () => {
  const check = { method: 'Trial limits', source: 'Montgomery, table 6.1 and example 6.1' };
  const { rounds, candidate, outWithoutCause } = studyLimits('xbar-r', steady);
  agreesExactly(check, { rounds: rounds.length, out: outWithoutCause }, { rounds: 1, out: [] }, 'flow width, points out');
  agrees(check, candidate?.centre, flow.xbarR.centre, { rel: 1e-6 }, 'centre');
  agrees(check, candidate?.sigma, flow.xbarR.sigma, { rel: 1e-6 }, 'sigma');
});

it('only a point with a cause leaves, and what it hid comes to light in the next round', () => {
  const causes = [{ index: 4, cause: 'tool changed' }, { index: 8, cause: 'new coil' }];
  const { rounds, candidate, outWithoutCause, unused, subgroups } = studyLimits('xbar-r', disturbed, causes);
  expect(rounds.map(({ removed }) => removed.map(({ index }) => index))).toEqual([[4], [8], []]);
  // Without two subgroups of small range the range of subgroup 16 is just beyond its limit; nobody gave a cause, so it stays.
  const ranges = disturbed.flatMap(({ range }, i) => (i === 4 || i === 8 ? [] : [range ?? Number.NaN]));
  expect(disturbed[15]?.range).toBeGreaterThan(2.114498 * (ranges.reduce((a, b) => a + b) / ranges.length));
  expect(outWithoutCause).toEqual([{ index: 15, panel: 'spread', side: 'above', cause: null }]);
  expect(unused).toEqual([]);
  expect(subgroups).toEqual({ kept: 23, needed: 20 });
  expect(candidate).toEqual(baselineLimits('xbar-r', disturbed.filter((_, i) => i !== 4 && i !== 8)));
});

it('a point without a cause stays in, and is named', () => {
  const { rounds, candidate, outWithoutCause } = studyLimits('xbar-s', disturbed);
  expect(rounds).toHaveLength(1);
  expect(outWithoutCause).toEqual([{ index: 4, panel: 'location', side: 'above', cause: null }]);
  expect(candidate).toEqual(baselineLimits('xbar-s', disturbed));
});

it('a cause for a point that is inside takes nothing away', () => {
  const { unused, candidate } = studyLimits('xbar-r', steady, [{ index: 3, cause: 'operator was new' }]);
  expect(unused).toEqual([{ index: 3, cause: 'operator was new' }]);
  expect(candidate?.subgroups).toBe(25);
});

it('offers nothing to freeze when too few are left, and still shows the rounds', () => {
  const few = studyLimits('xbar-r', disturbed, [{ index: 4, cause: 'tool changed' }], { needed: 25 });
  expect(few.candidate).toBeNull();
  expect(few.subgroups).toEqual({ kept: 24, needed: 25 });
  expect(few.rounds).toHaveLength(2);
});

it('individuals lose the moving ranges on both sides of a point that left', () => {
  const values = Array.from({ length: 24 }, (_, i) => 10 + ((i * 7) % 5) / 10);
  const moved = values.map((value, i) => subgroupStatistics([i === 12 ? value + 9 : value]));
  const { rounds, candidate } = studyLimits('i-mr', moved, [{ index: 12, cause: 'wrong gauge' }]);
  expect(rounds[0]?.out.map(({ index, panel }) => `${panel} ${index}`)).toEqual(['location 12', 'spread 12', 'spread 13']);
  expect(rounds[0]?.removed).toEqual([{ index: 12, cause: 'wrong gauge' }]);
  expect(candidate).toEqual(baselineLimits('i-mr', moved.map((subgroup, i) => (i === 12 ? subgroupStatistics([null]) : subgroup))));
});

it('refuses a study that is too short, and causes that name nothing', () => {
  expect(() => studyLimits('xbar-r', steady.slice(0, 19))).toThrow('studyLimits: needs at least 20 subgroups with a reading for limits, 19 given');
  expect(() => studyLimits('xbar-r', steady, [{ index: 25, cause: 'x' }])).toThrow('one of 25 subgroups, number 26 given');
  expect(() => studyLimits('xbar-r', steady, [{ index: 1, cause: ' ' }])).toThrow('a cause in words for subgroup 2');
  expect(() => studyLimits('xbar-r', steady, [], { needed: 1 })).toThrow('2 or more, 1 given');
});
