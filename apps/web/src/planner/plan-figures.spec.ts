import { expect, it } from 'vitest';
import { figuresOf, type PlanAnswer, planBody, shownShifts, wantedShifts } from './plan-figures.js';
import type { PlanDraft } from './planner.url.js';
import type { Ground } from './start-plans.js';

const GROUND: Ground = { sds: { check: 0.003, can: 0.004, position: 0.012 }, speed: 80, hours: 21, limits: 'short-term', parts: 6, unit: 'mm', decimals: 2, shift: 0.02 };
const PLAN: PlanDraft = { cans: 4, positions: 3, everyMinutes: 90, scheme: { kind: 'ewma', lambda: 0.2, width: 2.86 } };

it('asks with variances, and with the same shifts whatever the plan', () => {
  const body = planBody(GROUND, PLAN);
  expect(body).toMatchObject({ piecesPerCheck: 4, positionsPerPiece: 3, intervalMinutes: 90, piecesPerMinute: 80, hoursPerDay: 21, limitsInclude: 'short-term', scheme: PLAN.scheme });
  expect(Object.values(body?.components ?? {})).toEqual([9e-6, 16e-6, 144e-6].map((variance) => expect.closeTo(variance, 15)));
  expect(body?.shifts).toHaveLength(13);
  expect(body?.shifts).toEqual(planBody(GROUND, { ...PLAN, cans: 1 })?.shifts);
  expect(planBody({ ...GROUND, sds: { check: 0, can: 0, position: 0 } }, PLAN)).toBeNull();
});

it('counts shifts in sds of a single reading, and sets the shift of interest apart', () => {
  expect(shownShifts(GROUND).map(({ sigma, isOwn }) => [Number(sigma.toFixed(4)), isOwn])).toEqual([[1.5385, true], [0.5, false], [1, false], [1.5, false], [2, false], [3, false]]);
  expect(shownShifts(GROUND)[2]?.shift).toBeCloseTo(0.013, 12);
  expect(wantedShifts({ ...GROUND, shift: null }).every(({ isOwn }) => !isOwn)).toBe(true);
});

it('gives each shift its answer, and no cans where the speed is not known', () => {
  const perShift = wantedShifts(GROUND).map(({ shift, sigma }, index) => ({ shift, shiftInSigma: sigma, arl: 10, minutes: { mean: index, p95: index + 1 }, pieces: { mean: 80 * index, p95: null } }));
  const answer: PlanAnswer = { sigmaOfPoint: 0.005, falseAlarm: { arl: 370, days: 26.4 }, tornDownPerDay: 56, perShift };
  const figures = figuresOf(answer, GROUND);
  expect(figures.shown.map(({ minutes }) => minutes.mean)).toEqual([0, 2, 4, 6, 8, 12]);
  expect(figures.shown[0]).toMatchObject({ isOwn: true, shift: 0.02, cans: { mean: 0, p95: null } });
  expect(figures.shown[1]).toMatchObject({ isOwn: false, sigma: 0.5, cans: { mean: 160, p95: null } });
  expect(figures.curve).toHaveLength(12);
  expect(figures).toMatchObject({ falseAlarm: { points: 370, days: 26.4 }, tornDownPerDay: 56, meanSd: 0.005 });
  expect(figuresOf(answer, { ...GROUND, speed: null }).shown.every(({ cans }) => cans === null)).toBe(true);
});
