import { expect, it } from 'vitest';
import { planSignals, type SeriesFiring } from './plan-signals.js';

const hour = (n: number) => new Date(Date.UTC(2026, 2, 1, n));
const series = Array.from({ length: 40 }, (_, n) => ({ takenAt: hour(n), sequence: 1 }));
const eight = (index: number): SeriesFiring => ({ index, firstIndex: index - 7, chart: 'mean', rule: 'eight-in-a-row', side: 'above', seen: {} });

it('raises one signal for a run that goes on, not one a point', () => {
  const plan = planSignals(series, [eight(8), eight(9), eight(10)], []);
  expect(plan.raised).toHaveLength(1);
  expect(plan.raised[0]).toMatchObject({ firedAt: hour(8), firstAt: hour(1), lastGoodAt: hour(0), lastAt: hour(10) });
  expect(plan.raised[0]?.points.map((point) => point.takenAt)).toEqual([hour(8), hour(9), hour(10)]);
});

it('grows the signal that is open, and leaves a closed one (not handed in) alone', () => {
  const open = [{ id: 3, chart: 'mean', rule: 'eight-in-a-row', side: 'above', firedAt: hour(8), lastAt: hour(9) }];
  expect(planSignals(series, [eight(10)], open)).toMatchObject({ raised: [], grown: [{ id: 3, lastAt: hour(10) }] });
  expect(planSignals(series, [eight(10)], []).raised).toHaveLength(1);
});

it('raises a new signal for the other side, another rule, or after more than eight silent points', () => {
  const below: SeriesFiring = { ...eight(9), side: 'below' };
  const limits: SeriesFiring = { ...eight(9), rule: 'beyond-limits', firstIndex: 9 };
  expect(planSignals(series, [eight(8), below, limits, eight(17)], []).raised.map((signal) => [signal.rule, signal.side, signal.firedAt])).toEqual([
    ['eight-in-a-row', 'above', hour(8)], ['eight-in-a-row', 'below', hour(9)], ['beyond-limits', 'above', hour(9)], ['eight-in-a-row', 'above', hour(17)],
  ]);
});

it('says that no good point is known where the pattern begins with the series', () => {
  expect(planSignals(series, [eight(7)], []).raised[0]?.lastGoodAt).toBeNull();
});
