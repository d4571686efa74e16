import { expect, it } from 'vitest';
import { keepsAway, requiredMeasurements, seamRules } from './required-measurements.js';
import { type Teardown, teardownLacks } from './teardown-lacks.js';

const codesOf = (...input: Parameters<typeof requiredMeasurements>) => requiredMeasurements(...input).filter(({ need }) => need === 'required').map(({ characteristic, points }) => `${characteristic} ${points}`).sort();

it('asks for what 21 CFR 113.60(a)(1) asks for, 2015 edition', () => {
  expect(codesOf('21 CFR 113.60', 'micrometer')).toEqual(['body-hook 3', 'cover-hook 3', 'seam-length 3', 'seam-thickness 3', 'tightness 1']);
  expect(codesOf('21 CFR 113.60', 'optical')).toEqual(['body-hook 2', 'seam-overlap 2', 'seam-thickness 2', 'tightness 1']);
  expect(requiredMeasurements('21 CFR 113.60', 'micrometer').filter(({ need }) => need === 'optional').map(({ characteristic }) => characteristic)).toEqual(['seam-overlap', 'countersink']);
  expect(requiredMeasurements('21 CFR 113.60', 'optical').find(({ characteristic }) => characteristic === 'seam-thickness')?.byMicrometer).toBe(true);
});

it('asks for what 9 CFR 318.301(b)(2) asks for, 2015 edition, half an inch from the juncture', () => {
  expect(codesOf('9 CFR 318.301', 'micrometer')).toEqual(['body-hook 3', 'cover-hook 3', 'seam-length 3', 'seam-thickness 3', 'tightness 1']);
  expect(keepsAway('9 CFR 318.301')).toBeCloseTo(0.5 * 25.4, 9);
  expect(keepsAway('21 CFR 113.60')).toBe(0);
  expect(seamRules['9 CFR 318.301']).toContain('2015 edition');
});

const three = (value: number, places: (number | null)[] = [60, 180, 300]) => places.map((degrees) => ({ degrees, value }));
const whole: Teardown = {
  method: 'micrometer', sideSeam: true, insideDiameter: 65.3, juncture: { examined: true, rating: 80, droop: false },
  points: { 'cover-hook': three(1.65), 'body-hook': three(1.75), 'seam-length': three(2.55), 'seam-thickness': three(0.99), tightness: [{ degrees: null, value: 90 }] },
};
const rules = ['21 CFR 113.60', '9 CFR 318.301'] as const;

it.each(rules)('finds nothing lacking in a whole teardown, %s', (rule) => {
  expect(teardownLacks(whole, rule)).toEqual([]);
});

it('tells which points are missing', () => {
  const points = { ...whole.points, 'body-hook': [{ degrees: 60, value: 1.75 }, { degrees: 180, value: null }, { degrees: 300, value: 1.74 }], tightness: [] };
  expect(teardownLacks({ ...whole, points }, '21 CFR 113.60')).toEqual([
    { kind: 'too-few-points', characteristic: 'body-hook', needs: 3, has: 2 }, { kind: 'too-few-points', characteristic: 'tightness', needs: 1, has: 0 },
  ]);
  const { 'cover-hook': _, ...withoutHook } = whole.points;
  expect(teardownLacks({ ...whole, points: withoutHook }, '9 CFR 318.301')).toEqual([{ kind: 'too-few-points', characteristic: 'cover-hook', needs: 3, has: 0 }]);
});

it('does not count a point beside the weld, where the rule keeps away from it', () => {
  // 12.7 mm on a body of 65.3 mm are 22.3 degrees each side.
  const points = { ...whole.points, 'cover-hook': three(1.65, [340, 100, 220]) };
  expect(teardownLacks({ ...whole, points }, '9 CFR 318.301')).toEqual([
    { kind: 'near-the-side-seam', characteristic: 'cover-hook', index: 0, needs: expect.closeTo(22.3, 1), has: 20 },
    { kind: 'too-few-points', characteristic: 'cover-hook', needs: 3, has: 2 },
  ]);
  expect(teardownLacks({ ...whole, points }, '21 CFR 113.60')).toEqual([]);
  expect(teardownLacks({ ...whole, points: { ...points, 'cover-hook': three(1.65, [0, 120, 240]) } }, '21 CFR 113.60')[0]).toMatchObject({ kind: 'near-the-side-seam', index: 0 });
  expect(teardownLacks({ ...whole, points, sideSeam: false }, '9 CFR 318.301')).toEqual([]);
});

it('sees points that stand together, and places that nobody wrote down', () => {
  const points = { ...whole.points, 'cover-hook': three(1.65, [60, 90, 120]), 'body-hook': three(1.75, [60, null, 300]) };
  expect(teardownLacks({ ...whole, points }, '9 CFR 318.301')).toEqual([
    { kind: 'places-not-written', characteristic: 'body-hook' },
    { kind: 'not-spread-round', characteristic: 'cover-hook', needs: 120, has: 300 },
  ]);
  expect(teardownLacks({ ...whole, insideDiameter: null }, '9 CFR 318.301').every(({ kind }) => kind === 'places-not-written')).toBe(true);
});

it('never calls a teardown complete without the juncture', () => {
  expect(teardownLacks({ ...whole, juncture: null }, '9 CFR 318.301')).toEqual([{ kind: 'juncture-not-examined', need: 'required' }]);
  expect(teardownLacks({ ...whole, juncture: { examined: false } }, '21 CFR 113.60')).toEqual([{ kind: 'juncture-not-examined', need: 'looked for' }]);
  expect(teardownLacks({ ...whole, juncture: null, sideSeam: false }, '9 CFR 318.301')).toEqual([]);
});

it('needs two places under the scope', () => {
  const optical: Teardown = { ...whole, method: 'optical', points: { 'body-hook': three(1.75, [90, 270]), 'seam-overlap': three(1.02, [90]), 'seam-thickness': three(0.99, [90, 270]), tightness: [{ degrees: null, value: 90 }] } };
  expect(teardownLacks(optical, '21 CFR 113.60')).toEqual([{ kind: 'too-few-points', characteristic: 'seam-overlap', needs: 2, has: 1 }]);
  expect(() => teardownLacks({ ...whole, insideDiameter: -1 }, '21 CFR 113.60')).toThrow(/insideDiameter/);
  expect(() => teardownLacks({ ...whole, points: { ...whole.points, 'cover-hook': [{ degrees: 60, value: Number.NaN }] } }, '21 CFR 113.60')).toThrow(/cover-hook/);
});
