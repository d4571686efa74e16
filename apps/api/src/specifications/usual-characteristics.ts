type Usual = { code: string; name: string; unit: string; kind: 'variable'; stepKind: string; gaugeStep: number; decimals: number; plausibleLow: number | null; plausibleHigh: number | null; formula: string | null; chartKind: 'xbar-r' | 'i-mr'; basis: 'can' };

const length = (code: string, name: string, stepKind: string, gaugeStep: number, decimals: number, low: number, high: number, chartKind: Usual['chartKind']): Usual => ({ code, name, unit: 'mm', kind: 'variable', stepKind, gaugeStep, decimals, plausibleLow: low, plausibleHigh: high, formula: null, chartKind, basis: 'can' });
const derived = (code: string, name: string, unit: string, decimals: number, formula: string): Usual => ({ code, name, unit, kind: 'variable', stepKind: 'seamer', gaugeStep: 10 ** -decimals, decimals, plausibleLow: null, plausibleHigh: null, formula, chartKind: 'i-mr', basis: 'can' });

/**
 * What most welded-can lines measure, offered so that a new plant need not type it. Common practice, no source: names,
 * gauge steps and wide plausible ranges (a question when exceeded), no specification and no limit. One can a head or
 * spindle is charted as an individual; several bodies of one pull as mean and range.
 */
export const usualCharacteristics: readonly Usual[] = [
  { code: 'weld-current', name: 'Welding current', unit: 'A', kind: 'variable', stepKind: 'body-maker', gaugeStep: 10, decimals: 0, plausibleLow: 500, plausibleHigh: 10_000, formula: null, chartKind: 'i-mr', basis: 'can' },
  length('weld-overlap', 'Weld overlap', 'body-maker', 0.01, 2, 0.1, 1.2, 'xbar-r'),
  length('weld-thickness', 'Weld thickness', 'body-maker', 0.001, 3, 0.1, 0.6, 'xbar-r'),
  { code: 'stripe-film', name: 'Side-stripe film', unit: 'µm', kind: 'variable', stepKind: 'stripe-applicator', gaugeStep: 1, decimals: 0, plausibleLow: 2, plausibleHigh: 200, formula: null, chartKind: 'xbar-r', basis: 'can' },
  length('flange-width', 'Flange width', 'flanger', 0.01, 2, 1, 5, 'i-mr'),
  length('seam-thickness', 'Seam thickness', 'seamer', 0.001, 3, 0.5, 2.5, 'i-mr'),
  length('seam-length', 'Seam length', 'seamer', 0.01, 2, 1.5, 4.5, 'i-mr'),
  length('body-hook', 'Body hook', 'seamer', 0.01, 2, 0.8, 3, 'i-mr'),
  length('cover-hook', 'Cover hook', 'seamer', 0.01, 2, 0.8, 3, 'i-mr'),
  length('countersink', 'Countersink', 'seamer', 0.01, 2, 1.5, 6, 'i-mr'),
  { code: 'tightness', name: 'Tightness rating', unit: '%', kind: 'variable', stepKind: 'seamer', gaugeStep: 5, decimals: 0, plausibleLow: 0, plausibleHigh: 100, formula: null, chartKind: 'i-mr', basis: 'can' },
  derived('seam-overlap', 'Seam overlap', 'mm', 2, 'seam.overlap'),
  derived('percent-overlap', 'Percent overlap', '%', 1, 'seam.percent-overlap'),
  derived('body-hook-butting', 'Body hook butting', '%', 1, 'seam.body-hook-butting'),
  derived('free-space', 'Free space', 'mm', 3, 'seam.free-space'),
];
