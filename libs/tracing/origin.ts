import type { StepKind } from '#canmaking/line/steps';
import type { EpochMs } from '#canmaking/units';

/** When the cans of the complaint passed a step, and how that is known. */
export type StepWindow = {
  readonly stepId: number;
  readonly stepKind: StepKind;
  readonly from: EpochMs;
  readonly until: EpochMs;
  /** `code`: as the can says; `counts`: by cumulative counts; `transit`: by shortest and longest times only. */
  readonly basis: 'code' | 'counts' | 'transit';
};

/** All cans alike, one unit or lane, every n-th body, or not to be told from what there is. */
export type Pattern = 'all' | 'one' | 'periodic' | 'undecided';

/** One place where the fault may have begun. */
export type Origin = {
  readonly stepId: number;
  readonly stepKind: StepKind;
  readonly machineId: number;
  readonly unitId: number | null;
  readonly laneId: number | null;
  readonly pattern: Pattern;
  /** Share among all origins looked at, 0 to 1; they add up to 1. */
  readonly share: number;
};

export type Trace = { readonly windows: readonly StepWindow[]; /** Likeliest first. */ readonly origins: readonly Origin[] };
