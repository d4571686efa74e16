import type { SeedReactionPlan } from './plant-types.js';

const last = 'Tell the shift lead; whether cans are held is decided by the plant’s process authority';
const reason = 'first issue, agreed with the shift leads of both shifts';

/** The reaction plans of the demo plant. Common practice, no source. */
export const seedReactionPlans: SeedReactionPlan[] = [
  { characteristicCode: 'weld-overlap', stepKind: 'body-maker', reason, steps: ['Pick five cans in a row and measure again', 'Look at the Z-bar and the calibration crown for wear and dirt', 'Write down what was set, with the time', last] },
  { characteristicCode: 'weld-thickness', stepKind: 'body-maker', reason, steps: ['Pick five cans in a row and measure again', 'Compare welding current and wire speed with the setting sheet', last] },
  { characteristicCode: 'body-hook', stepKind: 'seamer', reason, steps: ['Tear down two more cans of the same head', 'Compare with the heads beside it: one head or all of them', 'Check lower plate load and pin height of the head', last] },
  { characteristicCode: 'cover-hook', stepKind: 'seamer', reason, steps: ['Tear down two more cans of the same head', 'Check the first-operation roll of the head', last] },
];
