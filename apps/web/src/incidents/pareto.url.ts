import { paretoBy } from '#contract/incident-life';
import type { ParetoQuery } from './incident-life.queries.js';

/** What is counted, as the address says it; days are those of the plant. */
export type ParetoView = {
  by: 'customer' | 'defect' | 'machine' | 'category' | 'month'; weight: 'incidents' | 'cans';
  customer?: string; line?: number; kind?: 'complaint' | 'in-house'; from?: string; to?: string; alpha: string;
};
export const ALPHAS = ['0.00135', '0.01', '0.05'] as const;
const DAY = /^\d{4}-\d{2}-\d{2}$/;

export function readParetoUrl(params: URLSearchParams): ParetoView {
  const text = (name: string) => params.get(name)?.trim() ?? '';
  const view: ParetoView = { by: paretoBy.options.find((known) => known === text('by')) ?? 'defect', weight: text('weight') === 'cans' ? 'cans' : 'incidents', alpha: ALPHAS.find((known) => known === text('alpha')) ?? ALPHAS[0] };
  const [customer, line, kind] = [text('customer'), text('line'), text('kind')];
  if (customer !== '' && customer.length <= 200) view.customer = customer;
  if (/^[1-9]\d{0,8}$/.test(line)) view.line = Number(line);
  if (kind === 'complaint' || kind === 'in-house') view.kind = kind;
  for (const name of ['from', 'to'] as const) if (DAY.test(text(name))) view[name] = text(name);
  return view;
}

export function writeParetoUrl({ by, weight, alpha, line, ...rest }: ParetoView): URLSearchParams {
  const params = new URLSearchParams();
  if (by !== 'defect') params.set('by', by);
  if (weight !== 'incidents') params.set('weight', weight);
  if (alpha !== ALPHAS[0]) params.set('alpha', alpha);
  if (line !== undefined) params.set('line', String(line));
  for (const name of ['customer', 'kind', 'from', 'to'] as const) {
    const value = rest[name];
    if (value) params.set(name, value);
  }
  return params;
}

/** The request; a day begins when it begins in the plant. A day that is none is left out. */
export function paretoQuery({ by, weight, customer, kind, line, from, to }: ParetoView, fromInput: (text: string) => string | null): ParetoQuery {
  const moment = (day: string | undefined) => (day === undefined ? undefined : fromInput(`${day}T00:00`) ?? undefined);
  return { by, weight, customer, kind, lineId: line, from: moment(from), to: moment(to) };
}
