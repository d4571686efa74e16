import type { LikelyOrigin } from '#canmaking/defects/origin';
import type { PlanHistory } from '#canmaking/line/missed-checks';
import type { StepKind } from '#canmaking/line/steps';
import type { EpochMs } from '#canmaking/units';

// What the tracer is given: plain records of one line, already read from wherever they are kept. All moments in UTC.

export type TracedUnit = { readonly id: number; readonly code: string; readonly position: number };
export type TracedMachine = { readonly id: number; readonly code: string; readonly units: readonly TracedUnit[] };
/** One place in the line, in process order; several machines stand side by side and share the flow. */
export type TracedStep = { readonly id: number; readonly kind: StepKind; readonly machines: readonly TracedMachine[] };
/** What lies between a step and the next one: time by path and speed, and how many cans it can hold. */
export type Stretch = {
  readonly fromStepId: number;
  readonly toStepId: number;
  readonly shortestSeconds: number;
  readonly longestSeconds: number;
  /** Cans between the two while running; null = not known, then only times bound them. */
  readonly leastCans: number | null;
  readonly mostCans: number | null;
};
/** Which can of a double-high (or triple) body; none on a line that makes single bodies. */
export type TracedLane = { readonly id: number; readonly code: string; readonly position: number };

export type LineMap = {
  readonly id: number;
  readonly steps: readonly TracedStep[];
  readonly stretches: readonly Stretch[];
  readonly lanes: readonly TracedLane[];
  /** Lanes of the slitter, for a fault on every n-th body; null = not known. */
  readonly slitterLanes: number | null;
  /** By how much the clocks of printer, log book and counters may differ, in minutes, each way. */
  readonly clockMinutes: number;
};

/** Cans out of a machine in the span that begins at `at`. Spans may be missing (a stop, or a counter that was away). */
export type CountSpan = { readonly machineId: number; readonly at: EpochMs; readonly minutes: number; readonly good: number; readonly rejected: number };

/** One point of a stream: what one check read, as it is plotted. */
export type StreamPoint = {
  readonly at: EpochMs;
  readonly mean: number | null;
  /** Of the charted members (cans, or single readings). */
  readonly n: number;
  /** Members in the order of the cans as picked, for a fault on every n-th body; consecutive bodies only where the plan says so. */
  readonly members: readonly (number | null)[];
};
/** Limits in force at the complaint's time; sigma is that of one charted member. */
export type StreamLimits = { readonly centre: number; readonly sigma: number };
export type TracedStream = {
  readonly id: number;
  /** Code of the characteristic, such as `weld-overlap`. */
  readonly characteristic: string;
  readonly stepKind: StepKind;
  readonly machineId: number;
  readonly laneId: number | null;
  readonly unitId: number | null;
  readonly limits: StreamLimits | null;
  readonly points: readonly StreamPoint[];
};

export type TracedSignal = {
  readonly id: number;
  readonly streamId: number;
  readonly rule: string;
  readonly side: 'above' | 'below';
  /** First point of the pattern, the point that fired, and the last one so far. */
  readonly firstAt: EpochMs;
  readonly firedAt: EpochMs;
  readonly lastAt: EpochMs;
};
export type TracedCheck = { readonly id: number; readonly machineId: number; readonly at: EpochMs; readonly planId: number | null };
/** A check plan with what the rule for missed checks takes. */
export type TracedPlan = { readonly id: number; readonly machineId: number; readonly name: string; readonly history: PlanHistory };
/** Something that happened to a machine, or to the whole line where machineId is null. */
export type TracedEvent = {
  readonly id: number;
  readonly machineId: number | null;
  readonly kind: 'coil-change' | 'wire-change' | 'roll-change' | 'tooling-set' | 'wash-down' | 'stop' | 'jam' | 'shift-change' | 'setting' | 'end-lot-change' | 'lacquer-change';
  readonly at: EpochMs;
  readonly until: EpochMs | null;
  readonly text: string;
};

/** What the complaint says. `from` and `until` bound the moment at which the code was put on the can, at `codedAtStepId`. */
export type Complaint = {
  /** Code of the defect taxonomy; `leaker` where only that is known. */
  readonly defect: string;
  /** Where such a defect begins in this plant, in place of what the trade says. */
  readonly origins?: readonly LikelyOrigin[];
  readonly leakPlace: string;
  readonly from: EpochMs;
  readonly until: EpochMs;
  readonly codedAtStepId: number;
  readonly laneId: number | null;
  /** Head, spindle … where the can carries its mark. */
  readonly unitId: number | null;
};

export type Evidence = {
  readonly line: LineMap;
  readonly complaint: Complaint;
  readonly counts: readonly CountSpan[];
  readonly streams: readonly TracedStream[];
  readonly signals: readonly TracedSignal[];
  readonly checks: readonly TracedCheck[];
  readonly plans: readonly TracedPlan[];
  readonly events: readonly TracedEvent[];
  /** Of a signal: the machine and the characteristic that moved there. What comes after it in the line cannot have moved it. */
  readonly seenAt?: { readonly machineId: number; readonly characteristic: string } | undefined;
  /** When the records end: nothing later is known. */
  readonly now: EpochMs;
};
