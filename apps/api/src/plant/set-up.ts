import { isStepKind, type StepKind, stepKinds, stepOrder } from '#canmaking/line/steps';
import type { InputOf } from '#contract/endpoint';
import type { changeLine, changeMachine, changeProduct, createLine, createMachine, createProduct } from '#contract/plant';
import { Problem } from '#contract/problem';
import { type Actor, record } from '../platform/audit.js';
import { refuseDuplicate } from '../platform/unique.js';
import type { Tx, Work } from '../platform/work.js';
import * as store from './set-up.store.js';

type Made = { id: number };
const taken = (what: string, code: string) => `a code that no ${what} of the plant has: "${code}" is taken`;
const retired = (now: Date, is: boolean, was: Date | null) => (is ? was ?? now : null);

export function addLine(work: Work, actor: Actor, body: InputOf<typeof createLine>['body']): Promise<Made> {
  return work.run(async (tx) => {
    refuseRepeated(body.lanes, 'lanes');
    const id = await refuseDuplicate(store.insertLine(tx, actor.plantId, body), 'code', taken('line', body.code));
    await record(tx, actor, 'line.made', `line ${id}`, { after: body });
    return { id };
  });
}

export function renameLine(work: Work, actor: Actor, id: number, body: InputOf<typeof changeLine>['body']): Promise<Made> {
  return work.run(async (tx) => {
    const before = await store.findLine(tx, actor.plantId, id);
    if (!before) throw new Problem('not-found', `There is no line ${id}.`);
    refuseRepeated(body.addLanes, 'addLanes');
    await store.updateLine(tx, actor.plantId, id, { name: body.name });
    await refuseDuplicate(store.insertLanes(tx, actor.plantId, id, body.addLanes), 'addLanes', 'lanes that the line does not have yet');
    await record(tx, actor, 'line.changed', `line ${id}`, { before: { name: before.name }, after: body });
    return { id };
  });
}

/** A new step takes its place in the order of the process, whatever the order of entry. */
export function addStep(work: Work, actor: Actor, body: { lineId: number; kind: string }): Promise<Made> {
  const kind = stepKindOf(body.kind);
  return work.run(async (tx) => {
    if (!(await store.findLine(tx, actor.plantId, body.lineId))) throw new Problem('not-found', `There is no line ${body.lineId}.`);
    const id = await store.insertStep(tx, actor.plantId, body.lineId, kind);
    await orderByProcess(tx, actor.plantId, body.lineId);
    await record(tx, actor, 'step.made', `step ${id}`, { after: body });
    return { id };
  });
}

/** Only while nothing hangs on it: the records of a machine were made under the kind that its step has. */
export function editStep(work: Work, actor: Actor, id: number, body: { kind: string }): Promise<Made> {
  const kind = stepKindOf(body.kind);
  return work.run(async (tx) => {
    const before = await store.findStep(tx, actor.plantId, id);
    if (!before) throw new Problem('not-found', `There is no step ${id}.`);
    if ((await store.countMachines(tx, actor.plantId, id)) > 0) throw new Problem('wrong-state', 'This step has machines: add another step instead.');
    await store.updateStep(tx, actor.plantId, id, { kind });
    await orderByProcess(tx, actor.plantId, before.lineId);
    await record(tx, actor, 'step.changed', `step ${id}`, { before: { kind: before.kind }, after: body });
    return { id };
  });
}

async function orderByProcess(tx: Tx, plantId: number, lineId: number): Promise<void> {
  const rank = (text: string) => (isStepKind(text) ? stepOrder(text) : Number.MAX_SAFE_INTEGER);
  const steps = await store.listSteps(tx, plantId, lineId);
  await store.orderSteps(tx, plantId, [...steps].sort((a, b) => rank(a.kind) - rank(b.kind) || a.position - b.position).map((step) => step.id));
}

function stepKindOf(text: string): StepKind {
  if (!isStepKind(text)) throw new Problem('invalid-input', undefined, [{ field: 'kind', expected: `one of ${stepKinds.join(', ')}` }]);
  return text;
}

/** The database would refuse a repeated lane too, but in the name of the line's code. */
function refuseRepeated(lanes: readonly { code: string }[], field: string): void {
  if (new Set(lanes.map((lane) => lane.code)).size < lanes.length) throw new Problem('invalid-input', undefined, [{ field, expected: 'each lane once' }]);
}

export function addMachine(work: Work, actor: Actor, body: InputOf<typeof createMachine>['body']): Promise<Made> {
  const { units, ...machine } = body;
  return work.run(async (tx) => {
    if (!(await store.findStep(tx, actor.plantId, body.stepId))) throw new Problem('not-found', `There is no step ${body.stepId}.`);
    const id = await refuseDuplicate(store.insertMachine(tx, actor.plantId, machine), 'code', taken('machine', body.code));
    await refuseDuplicate(store.insertUnits(tx, actor.plantId, id, units), 'units', 'each unit once');
    await record(tx, actor, 'machine.made', `machine ${id}`, { after: body });
    return { id };
  });
}

export function editMachine(work: Work, actor: Actor, id: number, body: InputOf<typeof changeMachine>['body'], now: Date): Promise<Made> {
  return work.run(async (tx) => {
    const before = await store.findMachine(tx, actor.plantId, id);
    if (!before) throw new Problem('not-found', `There is no machine ${id}.`);
    await store.updateMachine(tx, actor.plantId, id, { name: body.name, retiredAt: retired(now, body.retired, before.retiredAt) });
    await refuseDuplicate(store.insertUnits(tx, actor.plantId, id, body.addUnits), 'addUnits', 'units that the machine does not have yet');
    await record(tx, actor, 'machine.changed', `machine ${id}`, { before: { name: before.name, retired: before.retiredAt !== null }, after: body });
    return { id };
  });
}

export function addProduct(work: Work, actor: Actor, body: InputOf<typeof createProduct>['body']): Promise<Made> {
  return work.run(async (tx) => {
    const id = await refuseDuplicate(store.insertProduct(tx, actor.plantId, body), 'code', taken('product', body.code));
    await record(tx, actor, 'product.made', `product ${id}`, { after: body });
    return { id };
  });
}

export function editProduct(work: Work, actor: Actor, id: number, body: InputOf<typeof changeProduct>['body'], now: Date): Promise<Made> {
  const { retired: isRetired, ...fields } = body;
  return work.run(async (tx) => {
    const before = await store.findProduct(tx, actor.plantId, id);
    if (!before) throw new Problem('not-found', `There is no product ${id}.`);
    await store.updateProduct(tx, actor.plantId, id, { ...fields, retiredAt: retired(now, isRetired, before.retiredAt) });
    const { plantId: _plant, id: _id, ...old } = before;
    await record(tx, actor, 'product.changed', `product ${id}`, { before: old, after: body });
    return { id };
  });
}
