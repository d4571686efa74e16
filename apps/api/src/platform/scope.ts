/** What an auditor may see: the products of one customer, from `from` to before `until`. */
export type Scope = { customer: string; from: Date; until: Date };

export const isWithin = (scope: Scope, moment: string | Date): boolean => new Date(moment) >= scope.from && new Date(moment) < scope.until;

/** The span that was asked for, narrowed to the auditor's; both ends are part of it. Everybody else gets what they asked for. */
export function narrowSpan<Span extends { from?: string; to?: string }>(span: Span, scope: Scope | null): Span {
  if (!scope) return span;
  const last = new Date(scope.until.getTime() - 1);
  const from = new Date(Math.max(scope.from.getTime(), span.from ? Date.parse(span.from) : Number.NEGATIVE_INFINITY));
  const to = new Date(Math.min(last.getTime(), span.to ? Date.parse(span.to) : Number.POSITIVE_INFINITY));
  return { ...span, from: from.toISOString(), to: to.toISOString() };
}
