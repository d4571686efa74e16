import type { EpochMs } from '#canmaking/units';
import type { TracedEvent } from './evidence.js';
import type { Span } from './shift-evidence.js';

export type OnsetEvidence = { readonly eventId: number; readonly at: EpochMs; readonly logRatio: number };

/** Share of faults that begin with something in the log book. Common practice, no source. */
const BEGINS_WITH_ENTRY = 0.5;
/** A fault's entry is of one of the kinds that its machine has, which are about so many. */
const KINDS = 3;
/** What may begin a fault; a shift that changes over or water on the floor does not. */
const MAY_BEGIN = new Set<TracedEvent['kind']>(['coil-change', 'wire-change', 'roll-change', 'tooling-set', 'stop', 'jam', 'setting', 'end-lot-change', 'lacquer-change']);

/**
 * How much likelier an origin becomes by what the log book has on its machine where the fault can have begun: half of all
 * faults begin with an entry, and entries of that kind come by chance as often as they do in the rest of the records.
 * @param onset from the last good point to the first bad one; @param records span of all records
 */
export function onsetEvidence(events: readonly TracedEvent[], machineId: number, onset: Span, records: Span): OnsetEvidence | { readonly eventId: null; readonly at: null; readonly logRatio: number } {
  const own = events.filter((event) => event.machineId === machineId && MAY_BEGIN.has(event.kind));
  const inside = own.filter(({ at }) => at >= onset.from && at <= onset.until);
  const recorded = Math.max(1, records.until - records.from);
  // Kinds apart: a roll change once in two weeks says more than a stop once an hour.
  const scored = inside.map((event) => {
    const rate = own.filter(({ kind }) => kind === event.kind).length / recorded;
    const byChance = 1 - Math.exp(-rate * Math.max(60_000, onset.until - onset.from));
    return { event, ratio: 1 / KINDS / byChance };
  });
  const best = scored.reduce<(typeof scored)[number] | null>((most, each) => (most === null || each.ratio > most.ratio ? each : most), null);
  if (best === null) return { eventId: null, at: null, logRatio: Math.log(1 - BEGINS_WITH_ENTRY) };
  return { eventId: best.event.id, at: best.event.at, logRatio: Math.log(1 - BEGINS_WITH_ENTRY + BEGINS_WITH_ENTRY * best.ratio) };
}
