import type { DueCheck } from '#contract/due-checks';
import type { NowBoard } from '#contract/signals';
import type { Tx } from '../platform/work.js';
import { type BoardMachine, listBoardIncidents, listBoardMachines } from '../production/board.store.js';
import { lineRunning, type Running } from '../production/due-checks.js';
import { dueChecks } from '../production/due-list.js';
import { machineState } from '../production/machine-state.js';
import { listSignalRows } from '../signals/signal-pages.store.js';

const NEWEST_SIGNALS = 20;

/** Is anything wrong, on which machine, and what is due. */
export async function nowBoard(tx: Tx, plantId: number, now: Date): Promise<NowBoard> {
  const [machines, due, incidents, signals] = await Promise.all([
    listBoardMachines(tx, plantId, now), dueChecks(tx, plantId, now), listBoardIncidents(tx, plantId),
    listSignalRows(tx, plantId, { state: 'not-closed', take: NEWEST_SIGNALS }, now),
  ]);
  const running = new Map<number, Running>(machines.map((row) => [row.lineId, lineRunning(row.lineCountEnd?.getTime() ?? null, now.getTime())]));
  const lines = [...new Map(machines.map((row) => [row.lineId, row])).values()].map(({ lineId, lineCode, lineName }) => {
    const ofLine = machines.filter((row) => row.lineId === lineId);
    const { state, notRunningSince } = running.get(lineId) ?? { state: 'unknown' as const, notRunningSince: null };
    return {
      id: lineId, code: lineCode, name: lineName, running: state, notRunningSince: notRunningSince === null ? null : new Date(notRunningSince).toISOString(),
      steps: stepsOf(ofLine, due), incidents: incidents.filter((row) => row.lineId === lineId).map(({ lineId: _line, ...row }) => row),
    };
  });
  return { at: now.toISOString(), lines, openSignals: signals.total, signals: signals.signals, due };
}

function stepsOf(rows: readonly BoardMachine[], due: readonly DueCheck[]): NowBoard['lines'][number]['steps'] {
  const steps = new Map<number, NowBoard['lines'][number]['steps'][number]>();
  for (const row of rows) {
    const step = steps.get(row.stepId) ?? { id: row.stepId, kind: row.stepKind, machines: [] };
    steps.set(row.stepId, step);
    if (row.id === null) continue;
    const checksDue = due.filter((entry) => entry.machineId === row.id).length;
    step.machines.push({ id: row.id, code: row.code ?? '', name: row.name ?? '', state: machineState({ ...row, streams: row.streamId !== null, checksDue }), streamId: row.streamId, openSignals: row.openSignals, checksDue, lastCheckAt: row.lastCheckAt?.toISOString() ?? null });
  }
  return [...steps.values()];
}
