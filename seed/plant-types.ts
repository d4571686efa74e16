import type { FormulaId } from '#canmaking/seam/derive';
import type { StepKind } from '#canmaking/line/steps';
import type { RuleName } from '#statistics/rules/verdict';

export type SeedMachine = {
  code: string; name: string;
  /** Heads, spindles or slitter lanes, in order. */
  units: { code: string; name: string }[];
};
export type SeedStep = { kind: StepKind; machines: SeedMachine[] };
export type SeedLane = { code: string; name: string };
/** Shortest and longest time of a can between two steps: empty and full accumulators. */
export type SeedStretch = { from: StepKind; to: StepKind; shortestSeconds: number; longestSeconds: number };
export type SeedLine = {
  code: string; name: string; productCode: string; cansPerMinute: number;
  /** Empty for a single-high line. */
  lanes: SeedLane[];
  steps: SeedStep[];
  stretches: SeedStretch[];
};

export type SeedCustomer = { name: string; makes: string };
export type SeedProduct = {
  code: string; name: string; customer: string;
  diameter: number; height: number; bodyPlate: number; endPlate: number; seamProfile: string;
  /** The k of the seam formulas. */
  overlapFactor: number;
};
export type SeedRole = 'operator' | 'technician' | 'engineer' | 'manager' | 'auditor' | 'administrator';
export type SeedUser = { login: string; name: string; role: SeedRole };
/** Negative days: calibration is overdue at the end of the scenario. */
export type SeedGauge = { code: string; name: string; unit: string; resolution: number; calibrationDueInDays: number };

export type SeedCharacteristic = {
  code: string; name: string; unit: string; gaugeStep: number; decimals: number;
  kind: 'variable';
  stepKind: StepKind;
  plausibleLow: number | null; plausibleHigh: number | null;
  formula: FormulaId | null;
  chartKind: 'xbar-r' | 'i-mr';
  /** One charted member is a can: the mean of its positions. */
  basis: 'can';
  /** Four zone tests for what is watched for drift, the first alone for what repeats it: one shift then raises few signals. */
  rules: readonly RuleName[];
};
export type SeedSpecification = {
  productCode: string; characteristicCode: string; lsl: number | null; target: number | null; usl: number | null; reason: string;
};
export type SeedCheckPlan = {
  code: string; name: string; machineCode: string; productCode: string;
  /** Cans of each unit (perUnit), of each lane (perLane), or of the machine. */
  cans: number;
  perUnit: boolean; perLane: boolean;
  positions: string[];
  /** Measured characteristics; derived ones follow from them. */
  characteristics: string[];
  /** Derived characteristics that this check yields. */
  derived: string[];
  everyMinutes: number;
  /** Minutes after the day's first shift began. */
  firstAfterMinutes: number;
  intervalSource: string;
  gaugeByCharacteristic: Record<string, string>;
  /** Line events after which a check is due at once; a long stop is one of at least longStopMinutes. */
  openedBy: string[]; longStopMinutes: number | null; eventsSource: string;
};
/** What the plant wrote to do when a characteristic signals at a kind of step. */
export type SeedReactionPlan = { characteristicCode: string; stepKind: SeedLine['steps'][number]['kind']; steps: string[]; reason: string };
export type SeedPlant = {
  name: string; timeZone: string;
  lines: SeedLine[]; products: SeedProduct[]; customers: SeedCustomer[]; characteristics: SeedCharacteristic[];
  specifications: SeedSpecification[]; gauges: SeedGauge[]; checkPlans: SeedCheckPlan[]; reactionPlans: SeedReactionPlan[]; users: SeedUser[];
};
