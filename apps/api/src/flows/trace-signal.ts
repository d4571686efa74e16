import { defectOfSignal } from '#canmaking/defects/defect-of-signal';
import { findDefect } from '#canmaking/defects/taxonomy';
import type { SurroundingsAnswer } from '#contract/incidents';
import type { Trace } from '#contract/traces';
import { Problem } from '#contract/problem';
import type { SignalRow } from '#contract/signals';
import type { Tx, Work } from '../platform/work.js';
import { findSignalRow } from '../signals/signal-pages.store.js';
import { type Acted, type ActingPerson, EVERY_PLACE, keepRanking } from './keep-ranking.js';
import { lineSurroundings } from './line-surroundings.js';
import { traceCans } from './trace-cans.js';

type Asked = { defect?: string | undefined; take: number };

/**
 * Ranks where what a signal shows can have begun. The cans are those from the first point of the pattern to the one that
 * fired: of the rest of the suspect window nobody knows whether they are good. The signal's own head or half is no mark that
 * the cans carry by chance; that it moved alone, or with all others, is what the readings say.
 */
export async function traceSignal(tx: Tx, plantId: number, signalId: number, { defect, take }: Asked, now: Date): Promise<Trace> {
  const signal = await findSignalRow(tx, plantId, signalId, now);
  const { line, machine, product, characteristic } = signal.stream;
  return traceCans(tx, plantId, {
    lineId: line.id, productId: product.id, madeAt: new Date(signal.firstAt), madeUntil: new Date(signal.firedAt), at: { machineId: machine.id },
    laneId: null, unitId: null, leakPlace: 'unknown', defect: warnsOf(signal, defect), seenAt: { machineId: machine.id, characteristic: characteristic.code },
  }, take, now);
}

/** What is on record of the line around the first point of the signal. */
export async function signalSurroundings(tx: Tx, plantId: number, signalId: number, hours: { before: number; after: number }, now: Date): Promise<SurroundingsAnswer> {
  const { firstAt, stream: { line } } = await findSignalRow(tx, plantId, signalId, now);
  return lineSurroundings(tx, plantId, { lineId: line.id, madeAt: firstAt, incidentId: null }, hours, now);
}

function warnsOf({ chart, side, stream: { characteristic } }: SignalRow, asked: string | undefined): NonNullable<Trace['defect']> {
  const known = asked === undefined ? null : findDefect(asked);
  if (asked !== undefined && !known) throw new Problem('invalid-input', undefined, [{ field: 'defect', expected: 'a code of the defect taxonomy, see GET /api/defects' }]);
  if (known) return { code: known.code, name: known.name, by: 'asked' };
  // More scatter has no side: it is not known which way the cans are off.
  const usual = findDefect((chart === 'mean' ? defectOfSignal(characteristic.code, side) : null) ?? '');
  return usual ? { code: usual.code, name: usual.name, by: 'characteristic' } : { code: 'leaker', name: findDefect('leaker')?.name ?? 'leaker', by: 'unknown' };
}

/** Keeps the ranking of this moment with the name of the person who acts on it. */
export function keepSignalTrace(work: Work, actor: ActingPerson, signalId: number, { defect, ...acted }: Acted & { defect: string | null }, now: Date): Promise<{ id: number }> {
  return work.run(async (tx) => keepRanking(tx, actor, { incidentId: null, signalId }, acted, await traceSignal(tx, actor.plantId, signalId, { take: EVERY_PLACE, ...(defect === null ? {} : { defect }) }, now), now));
}
