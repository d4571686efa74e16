import type { AuditorRule } from '#contract/endpoint';
import { recordKind } from '#contract/records';
import { idText } from '#contract/shapes';
import { Problem } from '#contract/problem';
import type { Request } from './endpoint.js';
import { isInScope } from './scope.store.js';
import type { Tx } from './work.js';

/** What an auditor may see: the products of one customer, from `from` to before `until`. */
export type Scope = { customer: string; from: Date; until: Date };

export const isWithin = (scope: Scope, moment: string | Date): boolean => new Date(moment) >= scope.from && new Date(moment) < scope.until;

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
  if (thing === 'hold' || thing === 'study' || !(await isInScope(tx, plantId, scope, thing, id.data))) throw new Problem('not-found', `There is no ${thing} ${id.data}.`);
}

const given = (request: Pick<Request, 'params' | 'query'>, part: 'params' | 'query', name: string): unknown => (request[part] as Record<string, unknown>)[name];

/** The span that was asked for, narrowed to the auditor's; both ends are part of it. Everybody else gets what they asked for. */
export function narrowSpan<Span extends { from?: string; to?: string }>(span: Span, scope: Scope | null): Span {
  if (!scope) return span;
  const last = new Date(scope.until.getTime() - 1);
  const from = new Date(Math.max(scope.from.getTime(), span.from ? Date.parse(span.from) : Number.NEGATIVE_INFINITY));
  const to = new Date(Math.min(last.getTime(), span.to ? Date.parse(span.to) : Number.POSITIVE_INFINITY));
  return { ...span, from: from.toISOString(), to: to.toISOString() };
}
