import { type Material, materialOf, materials } from '#canmaking/defects/material-shares';
import type { EpochMs } from '#canmaking/units';
import type { Evidence, TracedEvent } from './evidence.js';
import type { StepWindow } from './origin.js';
import { factorOf, shiftBetween, type Span } from './shift-evidence.js';
import { standardise } from './standardise.js';

/** A coil, wire, end or lacquer lot that was on while the cans passed its machine; it began with the log-book entry. */
export type Lot = {
  readonly eventId: number; readonly machineId: number; readonly material: Material; readonly kind: TracedEvent['kind']; readonly text: string;
  readonly from: EpochMs;
  /** The next change of the same material; null: none on record, it was still in use. */
  readonly until: EpochMs | null;
  /** When the lot before it came on and when the one after it came off; null where nobody knows. */
  readonly before: EpochMs | null;
  readonly after: EpochMs | null;
};

/** The same with what is measured on its machine. */
export type LotInUse = Lot & {
  /** Of what is measured on the machine, what moved most just while the lot was in use: by how much (sigmas of a charted member) and how much likelier the readings are by it; null without a reading in it. */
  readonly moved: { readonly characteristic: string; readonly size: number; readonly times: number; readonly points: number } | null;
};

/** The lots that were on while the cans passed, in the order of the line. A lot that came on before the records begin is not known. */
export function lotsOn({ events, line }: Pick<Evidence, 'events' | 'line'>, windows: readonly StepWindow[]): Lot[] {
  return line.steps.flatMap(({ id: stepId, kind: stepKind, machines }) => {
    const window = windows.find((candidate) => candidate.stepId === stepId);
    if (window === undefined) return [];
    return machines.flatMap(({ id: machineId }) => materials.flatMap((material) => {
      const changes = events.filter((event) => event.machineId === machineId && materialOf(event.kind, stepKind) === material);
      return lotsBetween(changes, window).map((lot): Lot => ({ ...lot, machineId, material }));
    }));
  });
}

/** Each change of one material on one machine brings a lot, which is on until the next one. */
function lotsBetween(events: readonly TracedEvent[], window: Span): Omit<Lot, 'machineId' | 'material'>[] {
  const changes = [...events].sort((a, b) => a.at - b.at);
  const lots = changes.map(({ id, kind, text, at }, place) => ({
    eventId: id, kind, text, from: at, until: changes[place + 1]?.at ?? null, before: changes[place - 1]?.at ?? null, after: changes[place + 2]?.at ?? null,
  }));
  return lots.filter(({ from, until }) => from <= window.until && (until === null || until >= window.from));
}

/** The lots that were in use while the cans passed, those first that the readings speak for. */
export function lotsInUse({ streams, now, ...given }: Pick<Evidence, 'events' | 'streams' | 'line' | 'now'>, windows: readonly StepWindow[]): LotInUse[] {
  const standard = streams.flatMap((stream) => standardise(stream) ?? []);
  const lots = lotsOn(given, windows).map((lot): LotInUse => {
    const here = standard.filter(({ stream }) => stream.machineId === lot.machineId);
    const found = [...new Set(here.map(({ stream }) => stream.characteristic))].flatMap((characteristic) => {
      const shift = shiftBetween(here.filter(({ stream }) => stream.characteristic === characteristic), { from: lot.from, until: lot.until ?? now });
      return shift ? [{ characteristic, size: shift.size, times: factorOf(shift.logRatio), points: shift.points }] : [];
    });
    return { ...lot, moved: found.sort((a, b) => b.times - a.times)[0] ?? null };
  });
  return lots.sort((a, b) => (b.moved?.times ?? 0) - (a.moved?.times ?? 0));
}
