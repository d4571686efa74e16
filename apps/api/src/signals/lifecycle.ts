import { Problem } from '#contract/problem';
import { closers, investigators, type Role } from '#contract/roles';
import { acknowledgers, type SignalState } from '#contract/signals';

export type SignalAction = 'acknowledge' | 'assign-cause' | 'close' | 'reopen';
type Step = { from: readonly SignalState[]; to: SignalState; roles: readonly Role[]; needsText: false | 'cause' | 'comment'; done: string };

/** open → acknowledged → cause assigned → closed. A signal without a cause that was found may be closed, not one that nobody took. */
const STEPS: Record<SignalAction, Step> = {
  acknowledge: { from: ['open'], to: 'acknowledged', roles: acknowledgers, needsText: false, done: 'acknowledged' },
  'assign-cause': { from: ['acknowledged', 'cause-assigned'], to: 'cause-assigned', roles: investigators, needsText: 'cause', done: 'cause-assigned' },
  close: { from: ['acknowledged', 'cause-assigned'], to: 'closed', roles: closers, needsText: 'comment', done: 'closed' },
  reopen: { from: ['closed'], to: 'open', roles: closers, needsText: 'comment', done: 'reopened' },
};

const WORDS: Record<SignalState, string> = { open: 'open', acknowledged: 'acknowledged', 'cause-assigned': 'given a cause', closed: 'closed' };

/**
 * What a step makes of a signal: its next state and the name of the step on record.
 * @param seen the state that the person had before their eyes
 * @throws Problem changed-meanwhile, wrong-state, not-allowed or invalid-input, in words
 */
export function takeStep(action: SignalAction, stored: SignalState, { seen, role, text }: { seen: SignalState; role: Role; text?: string }): { state: SignalState; done: string } {
  const step = STEPS[action];
  if (!step.roles.includes(role)) throw new Problem('not-allowed', `A ${role} may not do this to a signal.`);
  if (seen !== stored) throw new Problem('changed-meanwhile', `The signal is ${WORDS[stored]} by now. Load it again and look at what was done.`);
  if (!step.from.includes(stored)) throw new Problem('wrong-state', `The signal is ${WORDS[stored]}; for this step it has to be ${step.from.map((state) => WORDS[state]).join(' or ')}.`);
  if (step.needsText !== false && (text ?? '').trim().length < 3) throw new Problem('invalid-input', undefined, [{ field: step.needsText, expected: 'at least 3 characters' }]);
  return { state: step.to, done: step.done };
}
