import { expect, it } from 'vitest';
import type { StreamVariation } from '#contract/planner';
import type { PlanDraft } from './planner.url.js';
import { adviceOf, changedPlans, columnsOf, groundOf, measuredSds, readingSd, todaysPlan } from './start-plans.js';

const component = (sources: StreamVariation['components'][number]['sources'], variance: number) => ({ sources, raw: variance, variance, share: null, groups: 2, df: 1, interval: null });
const VARIATION: StreamVariation = {
  stream: {
    id: 7, line: { id: 1, code: 'L', name: 'Line' }, machine: { id: 1, code: 'M', name: 'Machine', stepKind: 'seamer' }, unit: { id: 1, code: 'H1' }, lane: null, product: { id: 1, code: 'P', name: 'Can' },
    characteristic: { id: 1, code: 'body-hook', name: 'Body hook', unit: 'mm', decimals: 2, gaugeStep: 0.01, formula: null }, chartKind: 'i-mr', basis: 'can', rules: ['beyond-limits'], revision: 1,
  },
  used: { checks: 20, cans: 20, readings: 60, from: null, to: null, older: false, otherFormula: 0 }, mean: 1.75,
  components: [component(['check', 'can'], 0.0009), component(['position'], 0.0016)], refusal: null, steadiness: { openSignals: 0, signalled: 0, notJudged: 0 },
  plan: { id: 3, machineId: 1, productId: 1, name: 'Teardown', cans: 2, perUnit: true, perLane: false, positions: ['a', 'b', 'c'], characteristics: ['body-hook'], everyMinutes: 240, intervalSource: '', everyCans: null, cansSource: '', unitsEachTime: null, openedBy: [], longStopMinutes: null, eventsSource: '', revision: 1, retired: false, parts: 6, otherStreams: 11 },
  speed: { machineCansPerMinute: 480, share: 6, cansPerMinute: 80, hoursPerDay: 21, days: 7, from: '2026-03-01T08:00:00.000Z', to: '2026-03-08T08:00:00.000Z' },
};
const PLAN: PlanDraft = { cans: 5, positions: 2, everyMinutes: 30, scheme: { kind: 'cusum', k: 0.5, h: 5 } };

it('takes what cannot be told apart for the outermost source', () => {
  expect(measuredSds(VARIATION)).toEqual({ check: expect.closeTo(0.03, 12), can: 0, position: expect.closeTo(0.04, 12) });
  expect(measuredSds({ components: [component(['check'], 1), component(['can', 'position'], 4)] })).toEqual({ check: 1, can: 2, position: 0 });
  expect(measuredSds({ components: [component(['check', 'can', 'position'], 4)] })).toEqual({ check: 2, can: 0, position: 0 });
  expect(measuredSds({ components: [] })).toBeNull();
});

it('says what the mean of a check varies by most', () => {
  const sds = { check: 3, can: 4, position: 12 };
  expect(readingSd(sds)).toBe(13);
  expect([adviceOf(sds, { cans: 4, positions: 9 }), adviceOf(sds, { cans: 1, positions: 1 }), adviceOf({ ...sds, check: 0 }, { cans: 1, positions: 24 }), adviceOf({ check: 0, can: 0, position: 0 }, PLAN)]).toEqual(['checks', 'positions', 'cans', null]);
});

it('puts today first and keeps it out of what can be changed', () => {
  const today = todaysPlan(VARIATION);
  expect(today).toEqual({ cans: 2, positions: 3, everyMinutes: 240, scheme: { kind: 'rules', rules: ['beyond-limits'] } });
  expect(columnsOf(today, []).map(({ place }) => place)).toEqual([null, 0]);
  expect(columnsOf(today, [])[1]?.plan).toEqual(today);
  expect(columnsOf(today, [PLAN, PLAN, PLAN, PLAN])).toHaveLength(4);
  expect(columnsOf(null, [PLAN, PLAN, PLAN, PLAN]).map(({ place }) => place)).toEqual([0, 1, 2, 3]);
  expect(changedPlans(columnsOf(today, []), 0, PLAN)).toEqual([PLAN]);
  expect(changedPlans(columnsOf(today, [PLAN, { ...PLAN, cans: 9 }]), 0, null)).toEqual([{ ...PLAN, cans: 9 }]);
  for (const change of [{ plan: null }, { plan: { ...VARIATION.plan, everyMinutes: null } }]) expect(todaysPlan({ ...VARIATION, ...change } as StreamVariation)).toBeNull();
});

it('computes with what was typed, else with what was measured', () => {
  expect(groundOf({ plans: [] }, VARIATION)).toMatchObject({ speed: 80, hours: 21, limits: 'long-term', parts: 6, unit: 'mm', shift: null, sds: { can: 0 } });
  expect(groundOf({ plans: [], sds: { can: 0.01, check: 0 }, speed: 90, hours: 8, limits: 'short-term', shift: 0.02 }, VARIATION)).toMatchObject({ speed: 90, hours: 8, limits: 'short-term', shift: 0.02, sds: { check: 0, can: 0.01, position: expect.closeTo(0.04, 12) } });
  expect(groundOf({ plans: [], typed: true, sds: { can: 0.2 }, unit: 'µm' }, null)).toEqual({ sds: { check: 0, can: 0.2, position: 0 }, speed: null, hours: 24, limits: 'long-term', parts: 1, unit: 'µm', decimals: 3, shift: null });
  expect(groundOf({ plans: [] }, { ...VARIATION, stream: { ...VARIATION.stream, chartKind: 'xbar-r' } }).limits).toBe('short-term');
});
