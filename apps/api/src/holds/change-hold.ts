import { exactFraction } from '#statistics/sampling/exact-fraction';
import { zeroAcceptanceOfLot, zeroAcceptanceOfShare } from '#statistics/sampling/zero-acceptance';
import type { AnswerOf, InputOf } from '#contract/endpoint';
import type { addHoldPallets, Disposition, disposeHold, HoldState, moveHold, placeHold, planHoldSample, reopenHold, sampleHold } from '#contract/holds';
import { Problem } from '#contract/problem';
import { record } from '../platform/audit.js';
import { announce } from '../platform/outbox.js';
import type { Tx } from '../platform/work.js';
import { arithmeticOf, palletFaults } from './hold-arithmetic.js';
import { originFaults } from './hold-facts.store.js';
import { decidePallets, type Holder, insertHold, insertPallets, insertStep, listPallets, lockHold, setHold } from './holds.store.js';

const WORDS: Record<HoldState, string> = { proposed: 'only proposed', placed: 'placed', 'under-examination': 'under examination', decided: 'decided', withdrawn: 'withdrawn' };
const MOVES: Record<'placed' | 'under-examination' | 'withdrawn', readonly HoldState[]> = { placed: ['proposed'], 'under-examination': ['placed'], withdrawn: ['proposed'] };
/** What is not made good again by looking at it may be decided at once; the rest needs an examination. */
const WITHOUT_EXAMINATION: readonly Disposition[] = ['scrapped', 'returned'];

const refuseState = (state: HoldState, wanted: string) => new Problem('wrong-state', `The hold is ${WORDS[state]}; for this step it has to be ${wanted}.`);

/** Writes a hold with the arithmetic as this server computes it; the person must have seen the same number of cans. */
export async function place(tx: Tx, actor: Holder, { shownCans, ...body }: InputOf<typeof placeHold>['body'], now: Date): Promise<number> {
  const arithmetic = await arithmeticOf(tx, actor.plantId, body);
  const faults = await originFaults(tx, actor.plantId, body);
  if (faults.length > 0) throw new Problem('invalid-input', undefined, faults);
  const suspect = arithmetic.cans?.suspect ?? null;
  if (suspect !== shownCans) throw new Problem('changed-meanwhile', `The counts give ${suspect ?? 'no'} suspect cans by now, ${shownCans ?? 'none'} were shown. Compute again and look at it.`);
  const id = await insertHold(tx, actor, body, arithmetic, now);
  await insertPallets(tx, actor.plantId, id, body.pallets);
  await insertStep(tx, actor, id, body.state, now, body.reason);
  await leaveTrace(tx, actor, id, body.state, { after: body });
  return id;
}

export async function move(tx: Tx, actor: Holder, id: number, { revision, to, comment }: InputOf<typeof moveHold>['body'], now: Date): Promise<void> {
  const { state } = await lockHold(tx, actor.plantId, id, revision);
  if (!MOVES[to].includes(state)) throw refuseState(state, MOVES[to].map((from) => WORDS[from]).join(' or '));
  if (to === 'withdrawn' && comment.length < 3) throw new Problem('invalid-input', undefined, [{ field: 'comment', expected: 'why it is withdrawn' }]);
  await setHold(tx, actor.plantId, id, { state: to }, now);
  await insertStep(tx, actor, id, to, now, comment || null);
  await leaveTrace(tx, actor, id, to, { before: { state }, after: { state: to, comment } });
}

export async function addPallets(tx: Tx, actor: Holder, id: number, { revision, pallets }: InputOf<typeof addHoldPallets>['body'], now: Date): Promise<void> {
  const { state } = await lockHold(tx, actor.plantId, id, revision);
  if (state === 'decided' || state === 'withdrawn') throw refuseState(state, 'open');
  const faults = palletFaults(pallets);
  if (faults.length > 0) throw new Problem('invalid-input', undefined, faults);
  await insertPallets(tx, actor.plantId, id, pallets);
  await setHold(tx, actor.plantId, id, {}, now);
  await insertStep(tx, actor, id, 'pallets-added', now, pallets.map(({ code }) => code).join(', '));
  await leaveTrace(tx, actor, id, 'pallets-added', { after: { pallets } });
}

/** The smallest sample that accepts on zero; of a lot, at least one defective can is what is to be caught. */
export function sampleSize({ share, risk, lotCans }: InputOf<typeof planHoldSample>['query']): AnswerOf<typeof planHoldSample> {
  try {
    return lotCans === undefined ? zeroAcceptanceOfShare(share, risk) : zeroAcceptanceOfLot(lotCans, Math.max(1, Math.floor(share * lotCans)), risk);
  } catch (error) {
    if (error instanceof RangeError) throw new Problem('invalid-input', undefined, [{ field: 'share', expected: error.message }]);
    throw error;
  }
}

/** Keeps what a re-inspection found, with the share that may still be there (Clopper & Pearson 1934, one-sided). */
export async function sample(tx: Tx, actor: Holder, id: number, { revision, comment, ...body }: InputOf<typeof sampleHold>['body'], now: Date): Promise<void> {
  const { state } = await lockHold(tx, actor.plantId, id, revision);
  if (state !== 'under-examination') throw refuseState(state, WORDS['under-examination']);
  const { what, lotCans, share, risk, examined, found } = body;
  if (found > examined) throw new Problem('invalid-input', undefined, [{ field: 'found', expected: `no more than the ${examined} cans examined` }]);
  if (lotCans !== null && examined > lotCans) throw new Problem('invalid-input', undefined, [{ field: 'examined', expected: `no more than the ${lotCans} cans there are` }]);
  const { n: needed } = sampleSize({ share, risk, lotCans: lotCans ?? undefined });
  const detail = { what, lotCans, share, risk, needed, examined, found, upperBound: exactFraction(found, examined, 1 - risk).upperBound };
  await setHold(tx, actor.plantId, id, {}, now);
  await insertStep(tx, actor, id, 'sampled', now, comment || null, detail);
  await leaveTrace(tx, actor, id, 'sampled', { after: detail });
}

/** Records what people decided, for the named pallets or all that are left; the hold is decided once nothing is left. */
export async function dispose(tx: Tx, actor: Holder, id: number, { revision, disposition, pallets: named, reason, decidedBy, decidedRole }: InputOf<typeof disposeHold>['body'], now: Date): Promise<void> {
  const { state } = await lockHold(tx, actor.plantId, id, revision);
  if (state !== 'under-examination' && !(state === 'placed' && WITHOUT_EXAMINATION.includes(disposition))) throw refuseState(state, state === 'placed' ? `${WORDS['under-examination']} before product is ${disposition}` : 'placed or under examination');
  const all = await listPallets(tx, actor.plantId, id);
  const left = all.filter((pallet) => pallet.disposition === null);
  const wrong = named?.filter((code) => !left.some((pallet) => pallet.code === code)) ?? [];
  if (wrong.length > 0) throw new Problem('invalid-input', undefined, [{ field: 'pallets', expected: `pallets of this hold that are not decided: ${wrong.join(', ')} ${wrong.length === 1 ? 'is' : 'are'} not` }]);
  const chosen = named === null ? left : left.filter(({ code }) => named.includes(code));
  const step = await insertStep(tx, actor, id, 'decided', now, reason, { disposition, pallets: named, decidedBy, decidedRole, cautionAcknowledged: true });
  await decidePallets(tx, actor.plantId, chosen.map((pallet) => pallet.id), disposition, step);
  const kinds = new Set([...all.flatMap((pallet) => pallet.disposition ?? []), disposition]);
  const whole = chosen.length === left.length;
  await setHold(tx, actor.plantId, id, whole ? { state: 'decided', disposition: kinds.size > 1 ? 'mixed' : disposition } : {}, now);
  await leaveTrace(tx, actor, id, 'decided', { before: { state }, after: { disposition, pallets: chosen.map(({ code }) => code), whole, reason, decidedBy, decidedRole } });
}

export async function reopen(tx: Tx, actor: Holder, id: number, { revision, reason }: InputOf<typeof reopenHold>['body'], now: Date): Promise<void> {
  const { state, disposition } = await lockHold(tx, actor.plantId, id, revision);
  if (state !== 'decided') throw refuseState(state, WORDS.decided);
  const pallets = await listPallets(tx, actor.plantId, id);
  await decidePallets(tx, actor.plantId, pallets.map((pallet) => pallet.id), null, null);
  await setHold(tx, actor.plantId, id, { state: 'under-examination', disposition: null }, now);
  await insertStep(tx, actor, id, 'reopened', now, reason);
  await leaveTrace(tx, actor, id, 'reopened', { before: { state, disposition, pallets: pallets.map((pallet) => ({ code: pallet.code, disposition: pallet.disposition })) }, after: { reason } });
}

async function leaveTrace(tx: Tx, actor: Holder, holdId: number, change: string, values: { before?: unknown; after?: unknown }): Promise<void> {
  await record(tx, actor, `hold.${change}`, `hold ${holdId}`, values);
  await announce(tx, actor.plantId, [{ kind: 'hold.changed', payload: { holdId, change } }]);
}
