import type { AuditorRule } from '#contract/endpoint';
import { Problem } from '#contract/problem';
import { recordKind } from '#contract/records';
import { idText } from '#contract/shapes';
import type { Request } from './endpoint.js';
import type { Scope } from './scope.js';
import { isInScope } from './scope.store.js';
import type { Tx } from './work.js';

/** Refuses a thing that is not the auditor's with the words for one that does not exist, so that guessing ids tells nothing. */
export async function holdAgainstScope(tx: Tx, plantId: number, scope: Scope | null, rule: AuditorRule, request: Pick<Request, 'params' | 'query'>): Promise<void> {
  if (rule === 'own') return;
  if (!scope) throw new Problem('not-allowed', 'No customer and period are set for this auditor’s account: an administrator sets them under Set-up, People.');
  if (rule === 'filtered') return;
  const [part, name] = rule.at.split('.') as ['params' | 'query', string];
  const id = idText.safeParse(given(request, part, name));
  // What is no id, the shape of the request refuses, naming the field.
  if (!id.success) return;
  const thing = rule.thing === 'query.kind' ? recordKind.safeParse(given(request, 'query', 'kind')).data : rule.thing;
  if (thing === undefined) return;
  if (thing === 'hold' || thing === 'study' || thing === 'study-record' || !(await isInScope(tx, plantId, scope, thing, id.data))) throw new Problem('not-found', `There is no ${thing} ${id.data}.`);
}

const given = (request: Pick<Request, 'params' | 'query'>, part: 'params' | 'query', name: string): unknown => (request[part] as Record<string, unknown>)[name];
