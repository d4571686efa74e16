import { holdArithmetic } from '#canmaking/hold/hold-arithmetic';
import { palletsOfSpan } from '#canmaking/hold/pallets-of-span';
import type { AnswerOf, InputOf } from '#contract/endpoint';
import type { computeHold, HoldArithmetic, HoldQuestionBody } from '#contract/holds';
import { type FieldError, Problem } from '#contract/problem';
import type { Tx } from '../platform/work.js';
import { findPlace, listBuckets } from './hold-facts.store.js';

type Pallet = HoldQuestionBody['pallets'][number];
const iso = ({ from, until }: { from: number; until: number }) => ({ from: new Date(from).toISOString(), until: new Date(until).toISOString() });
const MOST_DAYS = 366;

/** The arithmetic of a hold from what the plant counted. @throws Problem invalid-input naming every field that does not fit */
export async function arithmeticOf(tx: Tx, plantId: number, body: HoldQuestionBody): Promise<HoldArithmetic> {
  const { pallets, ...question } = body;
  const place = await findPlace(tx, plantId, body);
  const faults = [...questionFaults(body), ...(Array.isArray(place) ? place : [])];
  if (faults.length > 0 || Array.isArray(place)) throw new Problem('invalid-input', undefined, faults);
  const span = { from: Date.parse(body.from), until: Date.parse(body.until) };
  const counts = await Promise.all(place.machines.map(async ({ id }) => ({ machineId: id, buckets: await listBuckets(tx, plantId, id, new Date(span.from), new Date(span.until)) })));
  const { atFault, atPallets, counted, ...answer } = holdArithmetic({
    span, counts, units: place.units, lanes: place.lanes, back: body.back, forward: body.forward,
    pallets: pallets.map(({ code, from, until }) => ({ code, span: from === null || until === null ? null : { from: Date.parse(from), until: Date.parse(until) } })),
  });
  return {
    question, ...answer, atFault: iso(atFault), atPallets: iso(atPallets), units: place.units, lanes: place.lanes, pallets: { ...answer.pallets, outside: [...answer.pallets.outside] }, openEnded: body.untilBasis === 'now' || body.untilBasis === 'stop',
    counted: counted.map((one) => ({ ...one, machine: place.machines.find(({ id }) => id === one.machineId)?.code ?? '' })),
  };
}

/** The same for the screen, with the pallets by a figure of so many a minute. */
export async function computeFor(tx: Tx, plantId: number, { figure, ...body }: InputOf<typeof computeHold>['body']): Promise<AnswerOf<typeof computeHold>> {
  const arithmetic = await arithmeticOf(tx, plantId, body);
  if (figure === null) return { arithmetic, computed: null };
  const { from, until } = arithmetic.atPallets;
  try {
    const { count, pallets } = palletsOfSpan({ from: Date.parse(from), until: Date.parse(until) }, { ...figure, boundaryAt: figure.boundaryAt === null ? null : Date.parse(figure.boundaryAt) });
    return { arithmetic, computed: { count, pallets: pallets.map(({ code, span }) => ({ code, ...(span === null ? { from: null, until: null } : iso(span)) })) } };
  } catch (error) {
    if (error instanceof RangeError) throw new Problem('invalid-input', undefined, [{ field: 'figure.palletsPerMinute', expected: error.message }]);
    throw error;
  }
}

function questionFaults({ from, until, firstBadAt, back, forward, pallets }: HoldQuestionBody): FieldError[] {
  const [start, end] = [Date.parse(from), Date.parse(until)];
  const bad = firstBadAt === null ? null : Date.parse(firstBadAt);
  return [
    ...(end > start ? [] : [{ field: 'until', expected: 'after the beginning of the span' }]), ...(end - start > MOST_DAYS * 86_400_000 ? [{ field: 'until', expected: `at most ${MOST_DAYS} days after the beginning` }] : []),
    ...(bad !== null && (bad < start || bad > end) ? [{ field: 'firstBadAt', expected: 'inside the span' }] : []),
    ...(['back', 'forward'] as const).flatMap((way) => { const { shortestSeconds, longestSeconds } = way === 'back' ? back : forward; return longestSeconds < shortestSeconds ? [{ field: `${way}.longestSeconds`, expected: 'not below the shortest' }] : []; }),
    ...palletFaults(pallets),
  ];
}

/** What is wrong with a list of pallets, by its place in the list. */
export function palletFaults(pallets: readonly Pallet[]): FieldError[] {
  const seen = new Set<string>();
  return pallets.flatMap(({ code, from, until }, index) => {
    const repeated = seen.has(code);
    seen.add(code);
    const row = index + 1;
    return [
      ...(repeated ? [{ field: `pallets.${index}.code`, row, expected: `each pallet once: ${code} stands above` }] : []),
      ...((from === null) !== (until === null) ? [{ field: `pallets.${index}.until`, row, expected: 'both times of the pallet, or neither' }] : []),
      ...(from !== null && until !== null && Date.parse(until) <= Date.parse(from) ? [{ field: `pallets.${index}.until`, row, expected: 'after the beginning of the pallet' }] : []),
    ];
  });
}
