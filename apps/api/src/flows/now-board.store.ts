import { type HoldRecord, openHolds } from '../holds/hold-pages.store.js';
import { asPart, rowsOf } from '../platform/reading.js';
import type { Tx } from '../platform/work.js';
import { type BoardIncidentRow, type BoardMachine, boardIncidents, boardMachines, overdueIncidents, type OverdueRow } from '../production/board.store.js';
import { type DuePlan, duePlans } from '../production/due-plans.store.js';
import { newestOfMachines } from '../production/newest.store.js';
import { openSignals, type SignalRecord } from '../signals/signal-pages.store.js';

const NEWEST_SIGNALS = 20;
const MOST = 100;

export type BoardRows = { machines: BoardMachine[]; plans: DuePlan[]; incidents: BoardIncidentRow[]; signals: SignalRecord[]; holds: HoldRecord[]; overdue: OverdueRow[] };

/** Everything that the Now board says, by one statement: all of it is of the same moment, and no plan, check or signal is between two of its parts. */
export async function readBoard(tx: Tx, plantId: number, now: Date): Promise<BoardRows> {
  const machines = boardMachines(plantId, now);
  const plans = duePlans(plantId, now);
  const incidents = boardIncidents(plantId);
  const signals = openSignals(plantId, NEWEST_SIGNALS);
  const holds = openHolds(plantId, MOST);
  const overdue = overdueIncidents(plantId, now);
  const [row] = await tx.$queryRaw<[BoardRows]>`
    /* planned once: now-board */ WITH ${newestOfMachines(plantId, now)} SELECT ${asPart(machines)} AS machines, ${asPart(plans)} AS plans, ${asPart(incidents)} AS incidents, ${asPart(signals)} AS signals, ${asPart(holds)} AS holds, ${asPart(overdue)} AS overdue`;
  return {
    machines: rowsOf(machines, row.machines), plans: rowsOf(plans, row.plans), incidents: rowsOf(incidents, row.incidents),
    signals: rowsOf(signals, row.signals), holds: rowsOf(holds, row.holds), overdue: rowsOf(overdue, row.overdue),
  };
}
