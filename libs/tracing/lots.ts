import type { EpochMs } from '#canmaking/units';
import type { Evidence, TracedEvent } from './evidence.js';
import type { StepWindow } from './origin.js';
import { shiftBetween } from './shift-evidence.js';
import { standardise } from './standardise.js';

/** A coil, wire or end lot that was in use while the cans passed its machine; it began with the log-book entry. */
export type LotInUse = {
  readonly eventId: number; readonly machineId: number; readonly kind: TracedEvent['kind']; readonly text: string;
  readonly from: EpochMs;
  /** The next change of the same kind; null: none on record, it was still in use. */
  readonly until: EpochMs | null;
  /** Of what is measured on the machine, what moved most just while the lot was in use: by how much (sigmas of a charted member) and how much likelier the readings are by it; null without a reading in it. */
  readonly moved: { readonly characteristic: string; readonly size: number; readonly times: number; readonly points: number } | null;
};

const MATERIALS: readonly TracedEvent['kind'][] = ['coil-change', 'wire-change', 'end-lot-change'];

/** The lots that were in use while the cans passed, those first that the readings speak for. A lot that came on before the records begin is not known. */
export function lotsInUse({ events, streams, line, now }: Pick<Evidence, 'events' | 'streams' | 'line' | 'now'>, windows: readonly StepWindow[]): LotInUse[] {
  const standard = streams.flatMap((stream) => standardise(stream) ?? []);
  const lots = windows.flatMap((window) => (line.steps.find(({ id }) => id === window.stepId)?.machines ?? []).flatMap((machine) => MATERIALS.flatMap((kind) => {
    const changes = events.filter((event) => event.machineId === machine.id && event.kind === kind).sort((a, b) => a.at - b.at);
    return changes.flatMap(({ id, at, text }, place): LotInUse[] => {
      const until = changes[place + 1]?.at ?? null;
      if (at > window.until || (until !== null && until < window.from)) return [];
      const here = standard.filter(({ stream }) => stream.machineId === machine.id);
      const found = [...new Set(here.map(({ stream }) => stream.characteristic))].flatMap((characteristic) => {
        const shift = shiftBetween(here.filter(({ stream }) => stream.characteristic === characteristic), { from: at, until: until ?? now });
        return shift ? [{ characteristic, size: shift.size, times: Math.exp(Math.min(600, shift.logRatio)), points: shift.points }] : [];
      });
      return [{ eventId: id, machineId: machine.id, kind, text, from: at, until, moved: found.sort((a, b) => b.times - a.times)[0] ?? null }];
    });
  })));
  return lots.sort((a, b) => (b.moved?.times ?? 0) - (a.moved?.times ?? 0));
}
