import type { NowBoard } from '#contract/signals';
import { holdRowOf } from '../holds/hold-pages.store.js';
import type { Tx } from '../platform/work.js';
import { type BoardMachine, boardIncidentOf, overdueOf } from '../production/board.store.js';
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
  const checksDue = countBy(due.map(({ machineId }) => machineId));
  const held = countBy(holds.flatMap(({ machine, lineId, state }) => (machine === null || state === 'proposed' ? [] : [`${lineId} ${machine}`])));
  const lines = [...new Map(machines.map((row) => [row.lineId, row])).values()].map(({ lineId, lineCode, lineName }) => {
    const ofLine = machines.filter((row) => row.lineId === lineId);
    const { state, notRunningSince } = running.get(lineId) ?? { state: 'unknown' as const, notRunningSince: null };
    return {
      id: lineId, code: lineCode, name: lineName, running: state, notRunningSince: notRunningSince === null ? null : new Date(notRunningSince).toISOString(),
      steps: stepsOf(ofLine, checksDue, held), incidents: incidents.filter((row) => row.lineId === lineId).map(({ lineId: _line, ...row }) => row),
    };
  });
  return {
    at: now.toISOString(), lines, openSignals: signals.total, signals: signals.signals, due,
    holds, overdue: overdue.map(overdueOf),
  };
}

function countBy<Key>(keys: readonly Key[]): Map<Key, number> {
  const counts = new Map<Key, number>();
  for (const key of keys) counts.set(key, (counts.get(key) ?? 0) + 1);
  return counts;
}

function stepsOf(rows: readonly BoardMachine[], due: ReadonlyMap<number, number>, held: ReadonlyMap<string, number>): NowBoard['lines'][number]['steps'] {
  const steps = new Map<number, NowBoard['lines'][number]['steps'][number]>();
  for (const { id, code, name, stepId, stepKind, lineId, streamId, openSignals, limits, judgedLately, lastCheckAt } of rows) {
    const step = steps.get(stepId) ?? { id: stepId, kind: stepKind, machines: [] };
    steps.set(stepId, step);
    if (id === null) continue;
    const checksDue = due.get(id) ?? 0;
    const holds = held.get(`${lineId} ${code}`) ?? 0;
    const state = machineState({ openSignals, limits, judgedLately, streams: streamId !== null, checksDue, holds });
    step.machines.push({ id, code: code ?? '', name: name ?? '', state, streamId, openSignals, checksDue, holds, lastCheckAt: lastCheckAt?.toISOString() ?? null });
  }
  return [...steps.values()];
}
