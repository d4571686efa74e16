import type { InputOf } from '#contract/endpoint';
import type { setStretches } from '#contract/plant';
import { type FieldError, Problem } from '#contract/problem';
import { type Actor, record } from '../platform/audit.js';
import type { Work } from '../platform/work.js';
import { findLine, listSteps } from './set-up.store.js';
import { listStretches, replaceStretches } from './stretches.store.js';

/** Replaces what is known of the ways between the steps of a line. */
export function putStretches(work: Work, actor: Actor, lineId: number, body: InputOf<typeof setStretches>['body']): Promise<{ id: number }> {
  return work.run(async (tx) => {
    const line = await findLine(tx, actor.plantId, lineId);
    if (!line) throw new Problem('not-found', `There is no line ${lineId}.`);
    const steps = await listSteps(tx, actor.plantId, lineId);
    const errors = body.stretches.flatMap((stretch, row) => faultsOf(stretch, row, steps.map(({ id }) => id), body.stretches));
    if (errors.length > 0) throw new Problem('invalid-input', undefined, errors);
    const before = await listStretches(tx, actor.plantId, lineId);
    await replaceStretches(tx, actor.plantId, lineId, body);
    await record(tx, actor, 'line.stretches', `line ${lineId}`, { before: { clockMinutes: line.clockMinutes, stretches: before }, after: body });
    return { id: lineId };
  });
}

type Stretch = InputOf<typeof setStretches>['body']['stretches'][number];

function faultsOf(stretch: Stretch, row: number, steps: readonly number[], all: readonly Stretch[]): FieldError[] {
  const [from, to] = [steps.indexOf(stretch.fromStepId), steps.indexOf(stretch.toStepId)];
  const fault = (field: string, expected: string): FieldError => ({ field: `stretches.${row}.${field}`, expected });
  return [
    ...(from < 0 ? [fault('fromStepId', 'a step of this line')] : []),
    ...(to < 0 ? [fault('toStepId', 'a step of this line')] : from >= 0 && to <= from ? [fault('toStepId', 'a later step of the line')] : []),
    ...(all.findIndex(({ fromStepId }) => fromStepId === stretch.fromStepId) < row ? [fault('fromStepId', 'each step once: another stretch begins there')] : []),
    ...(stretch.longestSeconds < stretch.shortestSeconds ? [fault('longestSeconds', `${stretch.shortestSeconds} s or more, the shortest time`)] : []),
    ...(stretch.mostCans !== null && stretch.mostCans < (stretch.leastCans ?? 0) ? [fault('mostCans', `${stretch.leastCans ?? 0} cans or more, the least number`)] : []),
  ];
}
