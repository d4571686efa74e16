import type { DueCheck } from '#contract/due-checks';
import type { NowBoard } from '#contract/signals';
import { listHoldsShown } from '../holds/hold-pages.store.js';
import { listIncidentRows } from '../incidents/incident-rows.store.js';
import type { Tx } from '../platform/work.js';
import { type BoardMachine, listBoardIncidents, listBoardMachines } from '../production/board.store.js';
import { lineRunning, type Running } from '../production/due-checks.js';
import { dueChecksAt } from '../production/due-list.js';
import { listDuePlans } from '../production/due-plans.store.js';
import { machineState } from '../production/machine-state.js';
import { listSignalRows } from '../signals/signal-pages.store.js';

const NEWEST_SIGNALS = 20;
const MOST = 100;

/** Is anything wrong, on which machine, and what is due. */
export async function nowBoard(tx: Tx, plantId: number, now: Date): Promise<NowBoard> {
  const [machines, plans, incidents, signals, holds, overdue] = await Promise.all([
    listBoardMachines(tx, plantId, now), listDuePlans(tx, plantId, now), listBoardIncidents(tx, plantId),
    listSignalRows(tx, plantId, { state: 'not-closed', take: NEWEST_SIGNALS }, now),
    listHoldsShown(tx, plantId, { state: 'open', take: MOST, skip: 0 }), listIncidentRows(tx, plantId, { take: MOST, skip: 0 }, null, now),
  ]);
  // The machines know when their line was counted last: it is not asked a second time.
  const due = dueChecksAt(plans, new Map(machines.map((row) => [row.lineId, row.lineCountEnd])), now);
  const running = new Map<number, Running>(machines.map((row) => [row.lineId, lineRunning(row.lineCountEnd?.getTime() ?? null, now.getTime())]));
  const lines = [...new Map(machines.map((row) => [row.lineId, row])).values()].map(({ lineId, lineCode, lineName }) => {
    const ofLine = machines.filter((row) => row.lineId === lineId);
    const { state, notRunningSince } = running.get(lineId) ?? { state: 'unknown' as const, notRunningSince: null };
    return {
      id: lineId, code: lineCode, name: lineName, running: state, notRunningSince: notRunningSince === null ? null : new Date(notRunningSince).toISOString(),
      steps: stepsOf(ofLine, due, holds.filter((hold) => hold.lineId === lineId && hold.state !== 'proposed').flatMap(({ machine }) => machine ?? [])), incidents: incidents.filter((row) => row.lineId === lineId).map(({ lineId: _line, ...row }) => row),
    };
  });
  return {
    at: now.toISOString(), lines, openSignals: signals.total, signals: signals.signals, due,
    holds, overdue: overdue.flatMap(({ id, customer, defectName, line, state, dueAt }) => (dueAt === null ? [] : [{ id, customer, defect: defectName, line, state, dueAt }])),
  };
}

function stepsOf(rows: readonly BoardMachine[], due: readonly DueCheck[], heldAt: readonly string[]): NowBoard['lines'][number]['steps'] {
  const steps = new Map<number, NowBoard['lines'][number]['steps'][number]>();
  for (const row of rows) {
    const step = steps.get(row.stepId) ?? { id: row.stepId, kind: row.stepKind, machines: [] };
    steps.set(row.stepId, step);
    if (row.id === null) continue;
    const checksDue = due.filter((entry) => entry.machineId === row.id).length;
    const holds = heldAt.filter((code) => code === row.code).length;
    step.machines.push({ id: row.id, code: row.code ?? '', name: row.name ?? '', state: machineState({ ...row, streams: row.streamId !== null, checksDue, holds }), streamId: row.streamId, openSignals: row.openSignals, checksDue, holds, lastCheckAt: row.lastCheckAt?.toISOString() ?? null });
  }
  return [...steps.values()];
}
