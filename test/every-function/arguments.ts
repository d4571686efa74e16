import { walksOfEwma } from '#statistics/power/run-length-of-ewma';
import { zoneChain } from '../../libs/statistics/power/run-length-of-rules-chain.js';
import { stepModel } from '../../libs/statistics/power/run-length-of-rules-steps.js';
import { subgroupStatistics } from '../../libs/statistics/charts/subgroup.js';

// Invented readings that every function can work with; the sweep spoils them one place at a time.
export const VALUES: readonly number[] = [10.1, 9.8, 10.4, 10.9, 9.5, 10.2, 10.3, 9.9, 10.6, 10, 9.7, 10.5];
export const SAMPLES = [[10.1, 9.8, 10.4, 10.9], [9.5, 10.2, 10.3], [9.9, 10.6, 10, 9.7, 10.5]] as const;
export const checks: readonly (readonly (number | null)[])[] = [[10.1, 9.8, 10.4], [10.9, 9.5, 10.2], [10.3, null, 9.9], [10.6, 10, 9.7], [10.5, 10.1, 10.2], [9.9, 10.4, 10.7]];
export const CHECKS: readonly (readonly (readonly (number | null)[])[])[] = [[[10.1, 9.8], [10.4, 10.9]], [[9.5, 10.2], [10.3, 9.9]], [[10.6, 10], [9.7, null]]];
export const SUBGROUPS = checks.map(subgroupStatistics);
export const INDIVIDUALS = VALUES.map((value) => subgroupStatistics([value]));
export const LIMITS = { kind: 'xbar-r', centre: 10.2, sigma: 0.5, spreadCentre: 0.85, subgroups: 20, readings: 60 } as const;
export const SPECIFICATION = { lsl: 8.5, usl: 12, target: 10.25 };
export const RULES = ['beyond-limits', 'two-of-three', 'six-in-a-trend'] as const;
export const CHOICE = { values: VALUES, lsl: 8.5, usl: 12, families: ['normal', 'lognormal'], threshold: 1, level: 0.05 };
export const FIT = { family: 'weibull', threshold: 1, shape: 2.5, scale: 10 } as const;
export const PANEL = { statistic: 'mean', points: [10, 11, 12.5, 9], centre: [10, 10, 10, 10], lower: [8, 8, 8, 8], upper: [12, 12, 12, 12], sigma: [0.5, 0.5, 0.5, 0.5], out: [{ index: 2, side: 'above' }] } as const;
export const GAUGE: readonly (readonly (readonly number[])[])[] = [[[1.1, 1.3], [1.2, 1]], [[2.4, 2.2], [2.1, 2.5]], [[3.6, 3.3], [3.1, 3.4]]];
export const RATINGS = { ratings: [[1, 2, 1], [3, 3, 2], [2, 2, 2], [1, 1, 3]], categories: [1, 2, 3], steps: 1, standard: [1, 3, 2, 1], least: 3 };
export const TERMS = [{ coefficient: 0.5, ms: 12, df: 9 }, { coefficient: -0.25, ms: 3, df: 20 }];
export const CHAIN = zoneChain(['beyond-limits', 'two-of-three'], true);
export const STEPS = stepModel(['six-in-a-trend'], CHAIN);
export const bends = (x: number): number => x ** 3 - 2;
export const humps = (share: number): number => share * (1 - share) ** 20;
export const beyondSix = (n: number): boolean => n > 6;
export const KERNEL = { size: 2, moves: Float64Array.of(0.5, 0.3, 0.2, 0.6), exits: Float64Array.of(0.2, 0.2) };
export const FOLLOWED = { survival: [1, 0.8, 0.64], hazard: 0.2, mean: 5 };
export const WALK_AT = walksOfEwma({ lambda: 0.2, width: 2 }, 'sweep');
