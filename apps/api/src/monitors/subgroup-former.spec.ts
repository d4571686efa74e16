import fc from 'fast-check';
import { expect, it } from 'vitest';
import { SubgroupFormer } from './subgroup-former.js';

const AT = Date.UTC(2026, 2, 1, 8, 15);
const body = (count: number, value = count, at = AT + count * 92) => ({ streamId: 7, at, count, value });
const former = () => new SubgroupFormer(7, { size: 3, every: 10, byCount: true });

it('takes the first three of every ten bodies of the counter, in the counter’s order', () => {
  const forming = former();
  expect([3, 12, 10, 9].flatMap((count) => forming.add(body(count)))).toEqual([]);
  expect(forming.add(body(11))).toEqual([{ streamId: 7, number: 1, at: AT + 12 * 92, readings: [10, 11, 12] }]);
  expect(forming.groupStart(13)).toBeNull();
  expect(forming.groupStart(22)).toBe(20);
});

it('gives up on a body that did not come only once the stream has gone on and some time has passed', () => {
  const forming = former();
  forming.add(body(10));
  forming.add(body(12));
  expect(forming.overdue(AT + 1e5)).toEqual([]);
  forming.add(body(20));
  expect(forming.overdue(AT)).toEqual([]);
  expect(forming.overdue(AT + 1e5)).toEqual([{ streamId: 7, number: 1, at: AT + 12 * 92, readings: [10, null, 12] }]);
  expect(forming.members().map(({ count }) => count)).toEqual([20]);
});

it('does not mix two runs of a counter that begins anew', () => {
  const forming = former();
  forming.add(body(10));
  expect(forming.add(body(11, 1, AT + 3_600_000))).toMatchObject([{ readings: [10, null, null] }]);
});

it('takes the first of every so many seconds where there is no counter, once', () => {
  const forming = new SubgroupFormer(7, { size: 2, every: 60, byCount: false });
  const at = (second: number) => forming.add({ streamId: 7, at: AT + second * 1000, count: null, value: second });
  expect([1, 5, 9, 59].flatMap(at)).toEqual([{ streamId: 7, number: AT / 60_000, at: AT + 5000, readings: [1, 5] }]);
  expect([61, 62].flatMap(at)).toHaveLength(1);
});

it('forms the same subgroups whatever the order, and after a restart from its own members', () => {
  fc.assert(fc.property(fc.shuffledSubarray(Array.from({ length: 40 }, (_, count) => count)), fc.integer({ min: 0, max: 40 }), (counts, cut) => {
    const inOrder = former();
    const wanted = [...counts].sort((a, b) => a - b).flatMap((count) => inOrder.add(body(count)));
    const before = former();
    const formed = counts.slice(0, cut).flatMap((count) => before.add(body(count)));
    const after = former();
    for (const member of before.members()) after.add(member);
    formed.push(...counts.slice(cut).flatMap((count) => after.add(body(count))));
    const values = (groups: typeof formed) => groups.map(({ readings }) => readings.join()).sort();
    expect(values(formed)).toEqual(values(wanted));
    expect(wanted).toHaveLength([0, 10, 20, 30].filter((start) => [0, 1, 2].every((place) => counts.includes(start + place))).length);
  }));
});

it('leaves a group as it was judged, whatever comes of it later, also after a restart; the same number at another time is another group', () => {
  const forming = former();
  for (const count of [10, 12, 20]) forming.add(body(count));
  const [judged] = forming.overdue(AT + 1e5);
  if (!judged) throw new Error('the group of body 10 is overdue');
  forming.markJudged(judged);
  expect(forming.add(body(11))).toEqual([]);
  expect(forming.members().map(({ count }) => count), 'no group of its own').toEqual([20]);
  const restarted = former();
  restarted.markJudged(judged);
  for (const count of [10, 12, 11]) expect(restarted.add(body(count))).toEqual([]);
  const later = AT + 3_600_000;
  expect([10, 11, 12].flatMap((count) => restarted.add(body(count, count, later + count)))).toMatchObject([{ number: 1, readings: [10, 11, 12] }]);
  const timed = new SubgroupFormer(7, { size: 2, every: 60, byCount: false });
  timed.markJudged({ number: AT / 60_000, at: AT + 5000 });
  expect([6, 7].flatMap((second) => timed.add({ streamId: 7, at: AT + second * 1000, count: null, value: second }))).toEqual([]);
});
