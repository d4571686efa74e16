import { expect, it } from 'vitest';
import { changePlannerView, type PlanDraft, type PlannerView, readFigure, readPlannerUrl, writePlannerUrl } from './planner.url.js';

const ZONES: PlanDraft = { cans: 5, positions: 3, everyMinutes: 90, scheme: { kind: 'rules', rules: ['beyond-limits', 'two-of-three'] } };
const EWMA: PlanDraft = { cans: 4, positions: 1, everyMinutes: 30, scheme: { kind: 'ewma', lambda: 0.2, width: 2.86 } };
const CUSUM: PlanDraft = { cans: 1, positions: 2, everyMinutes: 10_080, scheme: { kind: 'cusum', k: 0.5, h: 4.77 } };

it('gives back every view that it wrote', () => {
  const views: PlannerView[] = [
    { plans: [] }, { stream: 12, plans: [ZONES, EWMA, CUSUM], takeOver: 2 },
    { typed: true, sds: { check: 0, can: 0.012, position: 1e-5 }, unit: 'mm', speed: 480, hours: 22.5, shift: 0.02, limits: 'long-term', plans: [EWMA] },
    { stream: 3, from: '2026-03-01T08:00:00.000Z', to: '2026-03-09T08:00:00.000Z', sds: { check: 0.004 }, plans: [] },
  ];
  for (const view of views) expect(readPlannerUrl(new URLSearchParams(writePlannerUrl(view).toString()))).toEqual(view);
});

it('opens an old or mistyped address as far as it is understood', () => {
  const read = (text: string) => readPlannerUrl(new URLSearchParams(text));
  expect(read('stream=abc&speed=-3&hours=25&shift=0&sd-can=wide&unit=&limits=medium&from=soon')).toEqual({ plans: [] });
  expect(read('plan=5_3_90&plan=5_3_90_rules_made-up&plan=0_3_90_rules_beyond-limits&plan=5_3_90_ewma_0_3&plan=5_2.5_90_cusum_0.5_5&plan=5_3_90_hunch_1_2')).toEqual({ plans: [] });
  expect(read('plan=5_3_90_rules_beyond-limits.made-up.beyond-limits').plans).toEqual([{ ...ZONES, scheme: { kind: 'rules', rules: ['beyond-limits'] } }]);
  expect(read(`typed=1&stream=4&${Array.from({ length: 6 }, () => 'plan=1_1_60_cusum_0.5_5').join('&')}`)).toMatchObject({ typed: true, plans: { length: 4 } });
  expect(read('typed=1&stream=4').stream).toBeUndefined();
  expect(read('from=2026-03-09T08:00Z&to=2026-03-01T08:00Z')).toEqual({ from: '2026-03-09T08:00:00.000Z', plans: [] });
});

it('keeps the plans for another stream, and forgets what was typed over the figures of the former one', () => {
  const view: PlannerView = { stream: 1, sds: { can: 0.1 }, speed: 300, shift: 0.02, plans: [ZONES], takeOver: 1 };
  expect(changePlannerView(view, { stream: 2 })).toEqual({ stream: 2, plans: [ZONES] });
  expect(changePlannerView(view, { typed: true, stream: undefined, sds: { can: 0.2 } })).toEqual({ stream: undefined, typed: true, sds: { can: 0.2 }, plans: [ZONES] });
  expect(changePlannerView(view, { speed: 400 })).toEqual({ ...view, speed: 400 });
  expect(changePlannerView(view, { plans: [EWMA] }).takeOver).toBeUndefined();
});

it('reads figures with point or comma, and whole ones where cans are counted', () => {
  expect([readFigure('0,02', 'shift'), readFigure(' 2.5 ', 'k'), readFigure('1e-3', 'sd')]).toEqual([0.02, 2.5, 0.001]);
  expect([readFigure('2.5', 'cans'), readFigure('', 'cans'), readFigure('-1', 'k'), readFigure('0x10', 'k'), readFigure('1,000.5', 'speed'), readFigure('101', 'cans')]).toEqual([null, null, null, null, null, null]);
});
