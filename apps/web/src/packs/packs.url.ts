import type { Format } from '../shared/format.js';

/** Calendar days of the plant, both part of the period. */
export type PackView = { customer: string; products: number[]; studies: number[]; from: string; to: string };
type Customer = { customer: string; products: readonly { id: number }[]; last: string | null };

const isDay = (text: string | null): text is string => text !== null && /^\d{4}-\d{2}-\d{2}$/.test(text) && !Number.isNaN(Date.parse(text));
const ids = (text: string | null) => (text ?? '').split(',').map(Number).filter((id) => Number.isInteger(id) && id > 0);
const shiftDay = (day: string, by: number) => new Date(Date.parse(day) + by * 86_400_000).toISOString().slice(0, 10);

/** What the address says; where it says nothing: the first customer that was measured, all its products, the last ninety days. */
export function readPacksUrl(params: URLSearchParams, customers: readonly Customer[], format: Pick<Format, 'toInput'>): PackView {
  const asked = customers.find(({ customer }) => customer === params.get('customer'));
  const chosen = asked ?? customers.find(({ last }) => last !== null) ?? customers[0];
  const offered = chosen?.products.map(({ id }) => id) ?? [];
  const lastDay = chosen?.last ? format.toInput(chosen.last).slice(0, 10) : format.toInput(new Date().toISOString()).slice(0, 10);
  const [from, to] = [params.get('from'), params.get('to')];
  const end = isDay(to) ? to : lastDay;
  return {
    customer: chosen?.customer ?? '', products: params.has('products') ? ids(params.get('products')).filter((id) => offered.includes(id)) : offered, studies: ids(params.get('studies')),
    from: isDay(from) ? from : shiftDay(end, -89), to: end,
  };
}

export function writePacksUrl(now: URLSearchParams, view: PackView): URLSearchParams {
  const next = new URLSearchParams(now);
  next.set('customer', view.customer);
  next.set('products', view.products.join(','));
  if (view.studies.length > 0) next.set('studies', view.studies.join(',')); else next.delete('studies');
  next.set('from', view.from);
  next.set('to', view.to);
  return next;
}

/** From the first midnight to the one after the last day, on the plant's clocks; null when that holds no day. */
export function packMoments({ from, to }: Pick<PackView, 'from' | 'to'>, format: Pick<Format, 'fromInput'>): { from: string; to: string } | null {
  const first = format.fromInput(`${from}T00:00`);
  const end = format.fromInput(`${shiftDay(to, 1)}T00:00`);
  return first === null || end === null || first >= end ? null : { from: first, to: end };
}
