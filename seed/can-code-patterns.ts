import type { StepKind } from '#canmaking/line/steps';

export type SeedCanCodePattern = { lineCode: string; pattern: string; codedAt: StepKind; clockMinutes: number };

/** How the invented plant writes what can-code.ts prints: at the seamer, by printers whose clocks are set each shift. */
export const seedCanCodePatterns: readonly SeedCanCodePattern[] = [
  { lineCode: 'L1', pattern: '{line} {year:2}{day-of-year} {hour}{minute} {lane}', codedAt: 'seamer', clockMinutes: 2 },
  { lineCode: 'L2', pattern: '{line} {year:2}{day-of-year} {hour}{minute}', codedAt: 'seamer', clockMinutes: 2 },
  { lineCode: 'L3', pattern: '{line} {year:2}{day-of-year} {hour}{minute}', codedAt: 'seamer', clockMinutes: 2 },
];
