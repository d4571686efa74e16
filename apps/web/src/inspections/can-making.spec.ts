import { expect, it } from 'vitest';
import { degreesOf, teardownGaps } from './teardown-gaps.js';
import { weldTapers } from './weld-tapers.js';

const can = (number: number, lane: string | null = null) => ({ number, unit: null, lane });
const read = (code: string, readings: (number | null)[], more: { derived?: boolean; decimals?: number } = {}) => ({ code, name: code, unit: 'mm', decimals: more.decimals ?? 2, derived: more.derived ?? false, formula: null, gauge: null, readings });
const kinds = (gaps: ReturnType<typeof teardownGaps>, rule: string) => gaps?.rules.find((one) => one.rule === rule)?.gaps.map(({ lack, cans }) => [lack.kind, 'characteristic' in lack ? lack.characteristic : '', cans]);

it('reads the angle that a position names', () => {
  expect(['60°', '180 °', '22,5°', '120 deg', 'beside weld', '400°', ''].map(degreesOf)).toEqual([60, 180, 22.5, 120, null, null, null]);
});

it('says what a teardown lacks of each rule, once for all cans that lack it', () => {
  const positions = ['60°', '180°', '300°'];
  const full = [1.6, 1.61, 1.62];
  const whole = { cans: [can(1), can(2)], positions, characteristics: [...['cover-hook', 'body-hook', 'seam-length', 'seam-thickness', 'tightness'].map((code) => read(code, [...full, ...full])), read('juncture-rating', [80, null, null, 75, null, null]), read('seam-overlap', full, { derived: true })] };
  expect(teardownGaps(whole, 65.3)).toMatchObject({ method: 'micrometer', rules: [{ rule: '21 CFR 113.60', gaps: [] }, { rule: '9 CFR 318.301', gaps: [] }] });
  const poor = { ...whole, characteristics: whole.characteristics.filter(({ code }) => code !== 'tightness' && code !== 'juncture-rating').map((one) => (one.code === 'body-hook' ? { ...one, readings: [...full, 1.6, null, 1.62] } : one)) };
  expect(kinds(teardownGaps(poor, 65.3), '21 CFR 113.60')).toEqual([['too-few-points', 'tightness', ['1', '2']], ['juncture-not-examined', '', ['1', '2']], ['too-few-points', 'body-hook', ['2']]]);
  // Half an inch from the weld is 22 degrees on this can: a point at 10 degrees counts for one rule and not for the other.
  const near = { ...whole, positions: ['10°', '130°', '250°'] };
  expect(kinds(teardownGaps(near, 65.3), '21 CFR 113.60')).toEqual([]);
  expect(kinds(teardownGaps(near, 65.3), '9 CFR 318.301')?.filter(([kind]) => kind === 'near-the-side-seam')).toHaveLength(4);
  expect(kinds(teardownGaps({ ...whole, positions: ['a', 'b', 'c'] }, 65.3), '9 CFR 318.301')?.map(([kind]) => kind)).toEqual(['places-not-written', 'places-not-written', 'places-not-written', 'places-not-written']);
});

it('asks nothing of a check that measured no seam, and two places where the overlap was read optically', () => {
  expect(teardownGaps({ cans: [can(1)], positions: ['front'], characteristics: [read('weld-overlap', [0.4])] }, 65.3)).toBeNull();
  const optical = teardownGaps({ cans: [can(1)], positions: ['90°', '270°'], characteristics: ['body-hook', 'seam-overlap', 'seam-thickness', 'tightness'].map((code) => read(code, [1, 1])) }, null);
  expect([optical?.method, kinds(optical, '21 CFR 113.60')]).toEqual(['optical', [['juncture-not-examined', '', ['1']]]]);
});

it('tells the wedge and the bow of each can, by the step of the gauge', () => {
  const check = { cans: [can(1, 'A'), can(2, 'B'), can(3)], positions: ['front', 'middle', 'back'], characteristics: [read('weld-overlap', [0.46, 0.43, 0.4, 0.42, 0.42, 0.43, 0.4, null, null])] };
  const tapers = weldTapers(check);
  expect(tapers).toMatchObject({ unit: 'mm', gaugeStep: 0.01, unread: 1 });
  expect(tapers?.cans.map(({ number, lane, taper }) => [number, lane, taper.wedge, Math.round(taper.difference * 1000)])).toEqual([[1, 'A', 'wide-in-front', 60], [2, 'B', 'none', -10]]);
  expect(tapers?.cans[0]?.taper.bow).toBeCloseTo(0, 10);
  expect(weldTapers({ ...check, positions: ['a', 'b', 'c'] })).toBeNull();
  expect(weldTapers({ ...check, characteristics: [] })).toBeNull();
});
