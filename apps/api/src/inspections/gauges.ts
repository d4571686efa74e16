import type { InputOf } from '#contract/endpoint';
import type { changeGauge, createGauge } from '#contract/plant';
import { Problem } from '#contract/problem';
import { type Actor, record } from '../platform/audit.js';
import { refuseDuplicate } from '../platform/unique.js';
import type { Work } from '../platform/work.js';
import { findGauge, insertGauge, updateGauge } from './gauges.store.js';

const due = (text: string | null) => (text === null ? null : new Date(text));

export function addGauge(work: Work, actor: Actor, body: InputOf<typeof createGauge>['body']): Promise<{ id: number }> {
  return work.run(async (tx) => {
    const id = await refuseDuplicate(insertGauge(tx, actor.plantId, { ...body, calibrationDue: due(body.calibrationDue) }), 'code', `a code that no gauge of the plant has: "${body.code}" is taken`);
    await record(tx, actor, 'gauge.made', `gauge ${id}`, { after: body });
    return { id };
  });
}

export function editGauge(work: Work, actor: Actor, id: number, body: InputOf<typeof changeGauge>['body'], now: Date): Promise<{ id: number }> {
  const { retired, ...fields } = body;
  return work.run(async (tx) => {
    const before = await findGauge(tx, actor.plantId, id);
    if (!before) throw new Problem('not-found', `There is no gauge ${id}.`);
    await updateGauge(tx, actor.plantId, id, { ...fields, calibrationDue: due(fields.calibrationDue), retiredAt: retired ? before.retiredAt ?? now : null });
    await record(tx, actor, 'gauge.changed', `gauge ${id}`, { before, after: body });
    return { id };
  });
}
