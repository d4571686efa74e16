import { type BlindSheet, storedGaugePlan } from '#contract/gauge-studies';
import { Problem } from '#contract/problem';
import type { Tx } from '../platform/work.js';
import { listTrials } from './gauge-trials.store.js';
import { listStudyRecordRows } from './study-records.store.js';

/** What a person measures next. No value that was measured leaves the server while the sheet is open. */
export async function blindSheetOf(tx: Tx, plantId: number, id: number, person: number | undefined): Promise<BlindSheet> {
  const [row] = await listStudyRecordRows(tx, plantId, { id });
  if (row?.kind !== 'gauge') throw new Problem('not-found', `There is no gauge study ${id}.`);
  const plan = storedGaugePlan.parse(row.question);
  const trials = await listTrials(tx, plantId, id);
  const people = plan.people.map((name, index) => {
    const own = trials.filter((trial) => trial.person === index);
    return { name, taken: own.filter(({ value }) => value !== null).length, of: own.length };
  });
  if (person !== undefined && people[person] === undefined) throw new Problem('invalid-input', undefined, [{ field: 'query.person', expected: `a person of the plan, 0 to ${people.length - 1}` }]);
  const own = trials.filter((trial) => trial.person === person);
  const [next, last] = [own.find(({ value }) => value === null), own.findLast(({ value }) => value !== null)];
  // A nested repeat is another can of the same part; which repeat it is says nothing about a value.
  const label = ({ part, repeat }: { part: number; repeat: number }) => (plan.design === 'nested' ? `${plan.parts[part]}, can ${repeat + 1}` : plan.parts[part] ?? '');
  return {
    id, title: row.title, state: row.state, design: plan.design, characteristic: row.characteristic.name, gauge: row.gauge && `${row.gauge.code} ${row.gauge.name}`, unit: plan.unit, decimals: plan.decimals, gaugeStep: plan.gaugeStep, scale: plan.scale, people,
    next: next && row.state === 'measuring' ? { sequence: next.sequence, part: label(next), place: own.indexOf(next) + 1 } : null,
    last: last && row.state === 'measuring' ? { sequence: last.sequence, part: label(last) } : null,
  };
}
