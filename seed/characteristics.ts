import { RULE_NAMES } from '#statistics/rules/run-rules';
import type { SeedCharacteristic } from './plant-types.js';

type Watched = Pick<SeedCharacteristic, 'chartKind' | 'rules'>;
const bodies: Watched = { chartKind: 'xbar-r', rules: RULE_NAMES };
const watchedHead: Watched = { chartKind: 'i-mr', rules: RULE_NAMES };
const followedHead: Watched = { chartKind: 'i-mr', rules: ['beyond-limits'] };

const length = (
  code: string, name: string, stepKind: SeedCharacteristic['stepKind'], gaugeStep: number, decimals: number, range: [number, number], watched: Watched,
): SeedCharacteristic => ({
  code, name, unit: 'mm', gaugeStep, decimals, kind: 'variable', stepKind, plausibleLow: range[0], plausibleHigh: range[1], formula: null, basis: 'can', ...watched,
});

/** Plausible ranges hold for all three cans: what the can makes possible, far outside any specification. All invented. */
export const seedCharacteristics: SeedCharacteristic[] = [
  length('weld-overlap', 'Weld overlap', 'body-maker', 0.01, 2, [0.15, 0.85], bodies),
  length('weld-thickness', 'Weld thickness', 'body-maker', 0.001, 3, [0.12, 0.4], bodies),
  { code: 'weld-current', name: 'Welding current', unit: 'A', gaugeStep: 5, decimals: 0, kind: 'variable', stepKind: 'body-maker',
    plausibleLow: 1000, plausibleHigh: 6000, formula: null, basis: 'can', ...followedHead },
  { code: 'stripe-film', name: 'Side-stripe film', unit: 'µm', gaugeStep: 1, decimals: 0, kind: 'variable', stepKind: 'stripe-applicator',
    plausibleLow: 5, plausibleHigh: 150, formula: null, basis: 'can', ...bodies },
  length('flange-width', 'Flange width', 'flanger', 0.01, 2, [1.6, 3.6], watchedHead),
  length('seam-thickness', 'Seam thickness', 'seamer', 0.001, 3, [0.75, 1.5], watchedHead),
  length('seam-length', 'Seam length', 'seamer', 0.01, 2, [2.1, 3.5], followedHead),
  length('body-hook', 'Body hook', 'seamer', 0.01, 2, [1.2, 2.6], watchedHead),
  length('cover-hook', 'Cover hook', 'seamer', 0.01, 2, [1.1, 2.5], watchedHead),
  length('countersink', 'Countersink', 'seamer', 0.01, 2, [2.3, 3.7], followedHead),
  { code: 'tightness', name: 'Tightness rating', unit: '%', gaugeStep: 5, decimals: 0, kind: 'variable', stepKind: 'seamer',
    plausibleLow: 0, plausibleHigh: 100, formula: null, basis: 'can', ...followedHead },
  { code: 'seam-overlap', name: 'Seam overlap', unit: 'mm', gaugeStep: 0.01, decimals: 2, kind: 'variable', stepKind: 'seamer',
    plausibleLow: null, plausibleHigh: null, formula: 'seam.overlap', basis: 'can', ...followedHead },
  { code: 'percent-overlap', name: 'Percent overlap', unit: '%', gaugeStep: 0.1, decimals: 1, kind: 'variable', stepKind: 'seamer',
    plausibleLow: null, plausibleHigh: null, formula: 'seam.percent-overlap', basis: 'can', ...followedHead },
  { code: 'body-hook-butting', name: 'Body hook butting', unit: '%', gaugeStep: 0.1, decimals: 1, kind: 'variable', stepKind: 'seamer',
    plausibleLow: null, plausibleHigh: null, formula: 'seam.body-hook-butting', basis: 'can', ...followedHead },
  { code: 'free-space', name: 'Free space', unit: 'mm', gaugeStep: 0.001, decimals: 3, kind: 'variable', stepKind: 'seamer',
    plausibleLow: null, plausibleHigh: null, formula: 'seam.free-space', basis: 'can', ...followedHead },
];

/** Decimals of a characteristic's gauge. */
export function decimalsOf(code: string): number {
  const found = seedCharacteristics.find((characteristic) => characteristic.code === code);
  if (found === undefined) throw new RangeError(`unknown characteristic ${code}`);
  return found.decimals;
}
