import { isStepKind, stepKinds } from '#canmaking/line/steps';
import { formulaIds } from '#canmaking/seam/derive';
import type { InputOf } from '#contract/endpoint';
import type { changeCharacteristic, changeCheckPlan, createCharacteristic, createCheckPlan, createSpecification } from '#contract/plant';
import { type SpecificationRevision, specificationRevision } from '#contract/plant';
import { type FieldError, Problem } from '#contract/problem';
import { type Actor, record } from '../platform/audit.js';
import { refuseDuplicate } from '../platform/unique.js';
import type { Tx, Work } from '../platform/work.js';
import { isFormula } from './formulas.js';
import * as store from './set-up.store.js';
import { usualCharacteristics } from './usual-characteristics.js';
import { makePlan, revisePlan } from './write-check-plan.js';

type Acting = Actor & { userId: number };
type Made = { id: number };
const refuse = (errors: FieldError[]) => { if (errors.length > 0) throw new Problem('invalid-input', undefined, errors); };

const rangeErrors = ({ plausibleLow: low, plausibleHigh: high }: { plausibleLow: number | null; plausibleHigh: number | null }): FieldError[] =>
  (low !== null && high !== null && low >= high ? [{ field: 'plausibleHigh', expected: `more than plausibleLow, ${low}` }] : []);

export function addCharacteristic(work: Work, actor: Acting, body: InputOf<typeof createCharacteristic>['body']): Promise<Made> {
  refuse([
    ...(isStepKind(body.stepKind) ? [] : [{ field: 'stepKind', expected: `one of ${stepKinds.join(', ')}` }]),
    ...(body.formula === null || isFormula(body.formula) ? [] : [{ field: 'formula', expected: `none, or one of ${formulaIds.join(', ')}` }]),
    ...rangeErrors(body),
  ]);
  return work.run(async (tx) => {
    const id = await refuseDuplicate(store.insertCharacteristic(tx, actor.plantId, body), 'code', `a code that no characteristic of the plant has: "${body.code}" is taken`);
    await record(tx, actor, 'characteristic.made', `characteristic ${id}`, { after: body });
    return { id };
  });
}

export function editCharacteristic(work: Work, actor: Acting, id: number, body: InputOf<typeof changeCharacteristic>['body']): Promise<Made> {
  refuse(rangeErrors(body));
  return work.run(async (tx) => {
    const before = await store.findCharacteristic(tx, actor.plantId, id);
    if (!before) throw new Problem('not-found', `There is no characteristic ${id}.`);
    await store.updateCharacteristic(tx, actor.plantId, id, body);
    await record(tx, actor, 'characteristic.changed', `characteristic ${id}`, { before, after: body });
    return { id };
  });
}

export async function listUsual(tx: Tx, plantId: number) {
  const known = new Set(await store.listCharacteristicCodes(tx, plantId));
  return usualCharacteristics.map((usual) => ({ ...usual, known: known.has(usual.code) }));
}

export function addUsual(work: Work, actor: Acting, codes: readonly string[]): Promise<{ added: number }> {
  const unknown = codes.find((code) => !usualCharacteristics.some((usual) => usual.code === code));
  if (unknown) refuse([{ field: 'codes', expected: `codes of the offered list, not "${unknown}"` }]);
  return work.run(async (tx) => {
    const known = new Set(await store.listCharacteristicCodes(tx, actor.plantId));
    const wanted = usualCharacteristics.filter((usual) => codes.includes(usual.code) && !known.has(usual.code));
    for (const usual of wanted) {
      const id = await store.insertCharacteristic(tx, actor.plantId, usual);
      await record(tx, actor, 'characteristic.made', `characteristic ${id}`, { after: usual });
    }
    return { added: wanted.length };
  });
}

export function addSpecification(work: Work, actor: Acting, body: InputOf<typeof createSpecification>['body']): Promise<Made> {
  const { lsl, target, usl } = body;
  refuse([
    ...(lsl === null && usl === null ? [{ field: 'lsl', expected: 'a lower or an upper specification limit, or both' }] : []),
    ...(lsl !== null && usl !== null && lsl >= usl ? [{ field: 'usl', expected: `more than the lower limit, ${lsl}` }] : []),
    ...(target !== null && ((lsl !== null && target <= lsl) || (usl !== null && target >= usl)) ? [{ field: 'target', expected: 'a value between the limits' }] : []),
  ]);
  return work.run(async (tx) => {
    if (!(await store.productExists(tx, actor.plantId, body.productId))) throw new Problem('not-found', `There is no product ${body.productId}.`);
    if (!(await store.findCharacteristic(tx, actor.plantId, body.characteristicId))) throw new Problem('not-found', `There is no characteristic ${body.characteristicId}.`);
    const made = await store.insertSpecification(tx, actor.plantId, { ...body, effectiveFrom: new Date(body.effectiveFrom), authorId: actor.userId });
    await record(tx, actor, 'specification.proposed', `specification ${made.id}`, { after: { ...body, revision: made.revision } });
    return { id: made.id };
  });
}

export async function listSpecificationRevisions(tx: Tx, plantId: number, productId: number, characteristicId: number | undefined) {
  return (await store.listRevisions(tx, plantId, productId, characteristicId)).map(revisionView);
}

export const revisionView = ({ author, decider, plantId: _plant, authorId: _author, ...row }: store.RevisionRow): SpecificationRevision => ({
  ...row, state: revisionState.parse(row.state), author: author.name, decidedBy: decider, effectiveFrom: row.effectiveFrom.toISOString(), createdAt: row.createdAt.toISOString(), decidedAt: row.decidedAt?.toISOString() ?? null,
});
const revisionState = specificationRevision.shape.state;

/** A plan that cannot be filled in is refused when it is written, not when a technician stands before it. */
export async function refuseUnusable(tx: Tx, plantId: number, machineId: number, plan: store.PlanFields): Promise<void> {
  const formulas = new Map((await store.listMeasuredOrDerived(tx, plantId)).map((row) => [row.code, row.formula]));
  const parts = await store.countParts(tx, plantId, machineId);
  const again = (list: readonly string[], index: number) => list.indexOf(list[index] ?? '') < index;
  refuse([
    ...plan.characteristics.flatMap((code, index) => {
      const field = `characteristics.${index}`;
      if (!formulas.has(code)) return [{ field, expected: `a characteristic of the plant, not "${code}"` }];
      if (formulas.get(code) !== null) return [{ field, expected: `a measured characteristic: "${code}" is derived and follows by itself` }];
      return again(plan.characteristics, index) ? [{ field, expected: `each characteristic once: "${code}" is repeated` }] : [];
    }),
    ...plan.positions.flatMap((position, index) => (again(plan.positions, index) ? [{ field: `positions.${index}`, expected: `each position once: "${position}" is repeated` }] : [])),
    ...(plan.unitsEachTime !== null && !plan.perUnit ? [{ field: 'unitsEachTime', expected: 'none, since this plan is not kept apart by units' }] : []),
    ...(plan.unitsEachTime !== null && plan.perUnit && plan.unitsEachTime > parts.units ? [{ field: 'unitsEachTime', expected: `at most the ${parts.units} units of the machine` }] : []),
    ...plan.openedBy.flatMap((_, index) => (again(plan.openedBy, index) ? [{ field: `openedBy.${index}`, expected: 'each kind of event once' }] : [])),
    ...(plan.openedBy.includes('long-stop') !== (plan.longStopMinutes !== null) ? [{ field: 'longStopMinutes', expected: plan.longStopMinutes === null ? 'how many minutes a long stop is' : 'none, since no long stop opens a check' }] : []),
    ...(plan.perUnit && parts.units === 0 ? [{ field: 'perUnit', expected: 'no, since this machine has no units (add them under Lines and machines)' }] : []),
    ...(plan.perLane && parts.lanes === 0 ? [{ field: 'perLane', expected: 'no, since the line of this machine has no lanes' }] : []),
  ]);
}

export function addCheckPlan(work: Work, actor: Acting, { reason, ...body }: InputOf<typeof createCheckPlan>['body'], now: Date): Promise<Made> {
  return work.run(async (tx) => {
    if (!(await store.machineExists(tx, actor.plantId, body.machineId))) throw new Problem('not-found', `There is no machine ${body.machineId}.`);
    if (!(await store.productExists(tx, actor.plantId, body.productId))) throw new Problem('not-found', `There is no product ${body.productId}.`);
    const plan = { ...NOT_DUE, ...given(body) };
    await refuseUnusable(tx, actor.plantId, body.machineId, plan);
    return { id: await makePlan(tx, actor, plan, reason, now) };
  });
}

export function editCheckPlan(work: Work, actor: Acting, id: number, { retired, reason, revision, ...body }: InputOf<typeof changeCheckPlan>['body'], now: Date): Promise<Made> {
  return work.run(async (tx) => {
    const before = await store.lockCheckPlan(tx, actor.plantId, id);
    if (!before) throw new Problem('not-found', `There is no check plan ${id}.`);
    if (revision !== undefined && revision !== before.revision) throw new Problem('changed-meanwhile', `Check plan "${before.name}" is at revision ${before.revision} by now; you saw revision ${revision}.`);
    const { everyCans, cansSource, unitsEachTime, openedBy, longStopMinutes, eventsSource } = before;
    const plan = { everyCans, cansSource, unitsEachTime, openedBy, longStopMinutes, eventsSource, ...given(body) };
    if (!retired) await refuseUnusable(tx, actor.plantId, before.machineId, plan);
    await revisePlan(tx, actor, before, { ...plan, retiredAt: retired ? before.retiredAt ?? now : null }, reason, now);
    return { id };
  });
}

const NOT_DUE: store.PlanDue = { everyCans: null, cansSource: '', unitsEachTime: null, openedBy: [], longStopMinutes: null, eventsSource: '' };
type Given<T> = { [Key in keyof T]: Exclude<T[Key], undefined> };
/** Without the fields that were left out, so that they do not overwrite what they are spread over. */
const given = <T extends object>(body: T): Given<T> => Object.fromEntries(Object.entries(body).filter(([, value]) => value !== undefined)) as Given<T>;
