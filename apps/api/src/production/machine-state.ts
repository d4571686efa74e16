import type { NowBoard } from '#contract/signals';

type State = NowBoard['lines'][number]['steps'][number]['machines'][number]['state'];

/** The one state that a machine shows: the most urgent one. Steady is said only of a machine that was judged lately. */
export function machineState(machine: { openSignals: number; checksDue: number; holds: number; streams: boolean; limits: boolean; judgedLately: boolean }): State {
  if (machine.openSignals > 0) return 'signal';
  if (machine.checksDue > 0) return 'due';
  if (machine.holds > 0) return 'held';
  if (!machine.streams) return null;
  return machine.limits && machine.judgedLately ? 'steady' : 'not-judged';
}
