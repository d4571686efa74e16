import type { DueCheck } from '#contract/due-checks';
import type { NowBoard } from '#contract/signals';
import { holdRowOf } from '../holds/hold-pages.store.js';
import { rowView } from '../incidents/incident-rows.store.js';
import type { Tx } from '../platform/work.js';
import { type BoardMachine, boardIncidentOf } from '../production/board.store.js';
import { lineRunning, type Running } from '../production/due-checks.js';
import { dueChecksAt } from '../production/due-list.js';
import { machineState } from '../production/machine-state.js';
import { signalsOf } from '../signals/signal-pages.store.js';
import { readBoard } from './now-board.store.js';

/** Is anything wrong, on which machine, and what is due. */
export async function nowBoard(tx: Tx, plantId: number, now: Date): Promise<NowBoard> {
  const rows = await readBoard(tx, plantId, now);
  const { machines, plans, overdue } = rows;
  const [incidents, signals, holds] = [rows.incidents.map(boardIncidentOf), signalsOf(rows.signals, now), rows.holds.map(holdRowOf)];
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
    holds, overdue: overdue.map(rowView).flatMap(({ id, customer, defectName, line, state, dueAt }) => (dueAt === null ? [] : [{ id, customer, defect: defectName, line, state, dueAt }])),
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
