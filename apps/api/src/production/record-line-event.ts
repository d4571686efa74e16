import { type FieldError, Problem } from '#contract/problem';
import type { PlacedLineEvent } from '#contract/production';
import { type Actor, record } from '../platform/audit.js';
import type { Tx } from '../platform/work.js';
import { findEventPlace, findSameEvent, insertEvent } from './production.store.js';

/** Clocks of a tablet and the server may differ by so much. */
const CLOCK_SLACK_MS = 5 * 60_000;

/** Enters what happened; it is never a thing of the future. The same event from the same feed is stored once. */
export async function recordLineEvent(tx: Tx, actor: Actor, event: PlacedLineEvent, now: Date): Promise<number> {
  const place = await findEventPlace(tx, actor.plantId, event.lineId, event.machineId);
  const errors: FieldError[] = [
    ...(place.line ? [] : [{ field: 'lineId', expected: 'a line of this plant' }]),
    ...(place.machine || !place.line ? [] : [{ field: 'machineId', expected: 'a machine of that line' }]),
    ...(new Date(event.at).getTime() > now.getTime() + CLOCK_SLACK_MS ? [{ field: 'at', expected: 'a moment that is not in the future' }] : []),
  ];
  if (errors.length > 0) throw new Problem('invalid-input', undefined, errors);
  // A feed sends again what it had no answer to; a person sees the list and may mean two.
  const known = actor.userId === null ? await findSameEvent(tx, actor.plantId, event, actor.name) : null;
  if (known !== null) return known;
  const id = await insertEvent(tx, actor.plantId, event, actor.name, now);
  await record(tx, actor, 'line-event.recorded', `line event ${id}`, { after: event });
  return id;
}
