import type { LineEventKind } from './faults.js';

export type SimulatedCheck = {
  /** The same for the same seed, whatever the end of the scenario. */
  key: string;
  planCode: string; machineCode: string; productCode: string;
  /** Epoch milliseconds: when the cans were picked, and when the record was made. */
  takenAt: number; enteredAt: number;
  /** A login. */
  inspector: string;
  gaugeByCharacteristic: Record<string, string>;
  cans: { number: number; unitCode: string | null; laneCode: string | null }[];
  positions: string[];
  /** Measured characteristics only: can by can, position by position; null is a reading that is missing. */
  readings: Record<string, (number | null)[]>;
  note?: string;
};

/** A reading that was saved wrong and put right later; `readings` of the check hold the wrong one. */
export type SimulatedCorrection = {
  checkKey: string; characteristicCode: string; canIndex: number; positionIndex: number;
  from: number; to: number; at: number; by: string; reason: string;
};

/** A check that was due and never made. */
export type MissedCheck = { planCode: string; dueAt: number; reason: string | null };

export type SimulatedLineEvent = {
  code: string; lineCode: string; machineCode: string | null; kind: LineEventKind;
  at: number; until?: number; text: string;
  /** A login. */
  by: string;
};

/** Cans, also where the machine makes double-high bodies. */
export type SimulatedCount = { machineCode: string; at: number; minutes: number; good: number; rejected: number };

export type SimulatedFault = {
  code: string; title: string; lineCode: string; machineCode: string; unitCodes?: string[]; laneCode?: string;
  /** Measured characteristics that it moves: each of their streams at this place signals while the fault lasts. */
  characteristicCodes: string[];
  /** Derived ones that move with them; a small share of their spread need not signal. */
  derivedCodes: string[];
  beginsAt: number; endsAt: number | null;
  trueCause: string; complaintIncident: string | null;
  /** Log-book entries that belong to it; may be empty, since not every cause is written down. */
  trueEvents: string[];
  /** Entries of the same line within a day before and eight hours after its beginning that have nothing to do with it. */
  innocentEvents: string[];
};

export type SimulatedPlant = {
  startsAt: number; baselineEndsAt: number; endsAt: number;
  checks: SimulatedCheck[]; corrections: SimulatedCorrection[]; missedChecks: MissedCheck[];
  lineEvents: SimulatedLineEvent[]; counts: SimulatedCount[]; faults: SimulatedFault[];
};
