import { expect, it } from 'vitest';
import type { GaugePlan, StudyThresholds } from '#contract/gauge-studies';
import { gaugeResultOf } from './gauge-result.js';

const references = [0.15, 0.2, 0.25, 0.3, 0.35];
const plan: GaugePlan = {
  design: 'bias', people: ['Ana'], parts: references.map((value) => `M ${value}`), repeats: 5, references, scale: null, standard: null, seed: 1, unit: 'mm', decimals: 3, gaugeStep: 0.001,
  tolerance: null, confidence: 0.95,
} as GaugePlan;
const thresholds = { gaugeAccept: 0.1, gaugeReject: 0.3, categories: 5, kappaAccept: 0.9, kappaReject: 0.7, source: 'common practice' } as StudyThresholds;
/** Bias of a master, with the same small scatter at each. */
const trials = (biasOf: (reference: number) => number, slip = 0) => references.flatMap((reference, part) => [-2, -1, 0, 1, 2].map((step, repeat) => ({ person: 0, part, repeat, sequence: part * 5 + repeat, value: reference + biasOf(reference) + step * 0.0003 + (part === 2 && repeat === 4 ? slip : 0) })));
const of = (given: ReturnType<typeof trials>) => { const { bias, cautions } = gaugeResultOf({ plan, trials: given, thresholds, calibration: 'in-calibration', retakes: 0 }); return [bias?.unbiased, cautions.includes('bias-at-master')]; };

it('warns where one wrong reading hides a bias that single masters show', () => {
  expect(of(trials(() => 0))).toEqual([true, false]);
  expect(of(trials((reference) => (reference - 0.35) / 50))).toEqual([false, false]);
  expect(of(trials((reference) => (reference - 0.35) / 50, -0.1)), 'a slip at the third master').toEqual([true, true]);
});
