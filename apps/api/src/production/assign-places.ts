import { type FieldError, Problem } from '#contract/problem';
import { type Actor, record } from '../platform/audit.js';
import type { Tx } from '../platform/work.js';
import { findPlaces, findUnknown, type Places, replacePlaces } from './assignments.store.js';

/** Replaces the list of lines and machines that a person looks after. */
export async function assignPlaces(tx: Tx, actor: Actor, userId: number, asked: Places): Promise<Places & { userId: number }> {
  const { plantId } = actor;
  const places = { lineIds: [...new Set(asked.lineIds)], machineIds: [...new Set(asked.machineIds)] };
  const unknown = await findUnknown(tx, plantId, userId, places);
  if (!unknown.person) throw new Problem('not-found', `There is no person ${userId} who can sign in.`);
  const errors: FieldError[] = [
    ...asked.lineIds.flatMap((id, index) => (unknown.lines.has(id) ? [{ field: `lineIds.${index}`, expected: 'a line of this plant' }] : [])),
    ...asked.machineIds.flatMap((id, index) => (unknown.machines.has(id) ? [{ field: `machineIds.${index}`, expected: 'a machine of this plant that is in use' }] : [])),
  ];
  if (errors.length > 0) throw new Problem('invalid-input', undefined, errors);
  const before = await findPlaces(tx, plantId, userId);
  await replacePlaces(tx, plantId, userId, places);
  await record(tx, actor, 'assignments.changed', `person ${userId}`, { before, after: places });
  return { userId, ...places };
}
