import { tellOut } from '../../outgoing/tell-out.js';
import type { Clock } from '../../platform/clock.js';
import type { Reaction } from '../../platform/outbox.worker.js';
import type { Work } from '../../platform/work.js';
import { findSignalRow } from '../../signals/signal-pages.store.js';
import { findPlantById } from '../../users/users.store.js';
import { ruleSentence } from '../outgoing/rule-sentence.js';

/** Tells webhooks and people of a raised signal; once for each signal, however often the reaction runs. */
export const tellSignal = (work: Work, clock: Clock, publicUrl: string | null): Reaction => async ({ plantId, payload }) => {
  const id = payload['signalId'];
  const plant = await findPlantById(work.read, plantId);
  if (typeof id !== 'number' || !plant) return;
  const now = clock.now();
  const { stream, chart, rule, side, state, firedAt, raisedAt } = await findSignalRow(work.read, plantId, id, now);
  const { characteristic, machine, unit, lane, line, product } = stream;
  const at = new Intl.DateTimeFormat('en-GB', { timeZone: plant.timeZone, dateStyle: 'medium', timeStyle: 'short' }).format(new Date(firedAt));
  const place = [`${characteristic.name} on ${machine.code}`, unit ? `unit ${unit.code}` : null, lane ? `lane ${lane.code}` : null].filter((part) => part !== null).join(', ');
  await work.run((tx) => tellOut(tx, plant, {
    key: `signal-${id}-raised`, kind: 'signal.raised', topic: `stream ${stream.id}`, path: `/signals/${id}`, at: new Date(raisedAt),
    text: `Signal: ${place}, line ${line.code}. ${chart === 'spread' ? 'Spread: ' : ''}${ruleSentence(rule, side)}: ${at}.`,
    data: { signalId: id, streamId: stream.id, line: line.code, machine: machine.code, characteristic: characteristic.code, product: product.code, rule, side, state, firedAt },
  }, now, publicUrl));
};
