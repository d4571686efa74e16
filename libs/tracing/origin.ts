import type { Material } from '#canmaking/defects/material-shares';
import type { StepKind } from '#canmaking/line/steps';
import type { EpochMs } from '#canmaking/units';
import type { Missed } from './missed-checks.js';

/** When the cans of the complaint passed a step, and how that is known. */
export type StepWindow = {
  readonly stepId: number;
  readonly stepKind: StepKind;
  readonly from: EpochMs;
  readonly until: EpochMs;
  /** `code`: as the can says; `counts`: by cumulative counts; `transit`: by shortest and longest times only; `unknown`: no stretch leads there. */
  readonly basis: 'code' | 'counts' | 'transit' | 'unknown';
};

/** All cans alike, one unit or half of the body, every n-th body, those of one lot of material, or not to be told from what there is. */
export type Pattern = 'all' | 'one' | 'periodic' | 'lot' | 'undecided';

/**
 * Why an origin stands where it stands, strongest first. `times` is the factor by which the finding makes the origin likelier
 * (below 1: less likely) against a place of which nothing is known.
 */
export type Finding =
  | { readonly kind: 'taxonomy'; readonly share: number }
  | { readonly kind: 'material'; readonly material: Material; readonly share: number }
  | {
    readonly kind: 'shifted'; readonly characteristic: string; readonly streamIds: readonly number[]; readonly points: number; readonly times: number;
    /** Of the shift that fits best, in sigmas of a charted member; begin and end lie between these points, null = beyond the records. */
    readonly size: number; readonly lastGoodAt: EpochMs | null; readonly firstBadAt: EpochMs; readonly lastBadAt: EpochMs; readonly nextGoodAt: EpochMs | null;
  }
  | { readonly kind: 'steady'; readonly characteristic: string; readonly streamIds: readonly number[]; readonly points: number; readonly times: number }
  | { readonly kind: 'periodic'; readonly characteristic: string; readonly streamIds: readonly number[]; readonly period: number; readonly size: number; readonly members: number; readonly times: number }
  | { readonly kind: 'no-readings'; readonly characteristics: readonly string[] }
  | { readonly kind: 'signals'; readonly signalIds: readonly number[] }
  | { readonly kind: 'entry'; readonly eventId: number; readonly at: EpochMs; readonly times: number }
  | { readonly kind: 'no-entry'; readonly times: number }
  | { readonly kind: 'missed-checks' } & Missed
  | { readonly kind: 'mark'; readonly of: 'unit' | 'lane'; readonly fits: boolean; readonly times: number };

/** One place where the fault may have begun. */
export type Origin = {
  readonly stepId: number;
  readonly stepKind: StepKind;
  readonly machineId: number;
  readonly unitId: number | null;
  readonly laneId: number | null;
  readonly pattern: Pattern;
  /** Log-book entry with which the lot came on; null where it is no lot. */
  readonly lotEventId: number | null;
  /** Share among all origins looked at, 0 to 1; they add up to 1. */
  readonly share: number;
  /** Whether readings lie where they could confirm or refute it. */
  readonly enoughData: boolean;
  readonly findings: readonly Finding[];
};

export type Trace = { readonly windows: readonly StepWindow[]; /** Likeliest first. */ readonly origins: readonly Origin[] };
