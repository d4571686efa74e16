import type { Role } from '#contract/roles';
import type { SignalState } from '#contract/signals';
import { type Actor, record } from '../platform/audit.js';
import { announce } from '../platform/outbox.js';
import type { Tx } from '../platform/work.js';
import { type SignalAction, takeStep } from './lifecycle.js';
import { insertStep, lockSignal, setSignal } from './signal-pages.store.js';

type Person = Actor & { userId: number };

/** One step of a signal's life: the state is read again under lock, and step, audit row and news go with it. Who acknowledges has it. */
export async function stepSignal(tx: Tx, actor: Person, role: Role, id: number, action: SignalAction, given: { seen: SignalState; text?: string }, now: Date): Promise<void> {
  const before = await lockSignal(tx, actor.plantId, id);
  const { state, done } = takeStep(action, before.state, { ...given, role });
  const text = given.text?.trim() || null;
  const after = {
    state, cause: action === 'assign-cause' ? text : before.cause,
    assignedTo: action === 'acknowledge' ? actor.userId : before.assignedTo, closedAt: state === 'closed' ? now : null,
  };
  await setSignal(tx, actor.plantId, id, after);
  await insertStep(tx, actor, id, done, now, text);
  await record(tx, actor, `signal.${done}`, `signal ${id}`, { before, after: { ...after, comment: text } });
  await announce(tx, actor.plantId, [{ kind: 'signal.changed', payload: { signalId: id, change: done } }]);
}
