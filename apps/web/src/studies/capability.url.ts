/** What the capability page shows. Days are calendar days of the plant; the last one is part of the period. */
export type CapabilityView = { product?: number; machine?: number; characteristic?: number; unit?: number; lane?: number; from?: string; to?: string; row?: number | 'pooled' };

const IDS = ['product', 'machine', 'characteristic', 'unit', 'lane'] as const;

/** Reads the address; what is no id and no day is left out, so that an old or mistyped link still opens. */
export function readCapabilityUrl(params: URLSearchParams): CapabilityView {
  const view: CapabilityView = {};
  for (const name of IDS) {
    const value = idOf(params.get(name));
    if (value !== undefined) view[name] = value;
  }
  for (const name of ['from', 'to'] as const) {
    const day = params.get(name);
    if (day !== null && isDay(day)) view[name] = day;
  }
  const row = params.get('row') === 'pooled' ? 'pooled' : idOf(params.get('row'));
  if (row !== undefined) view.row = row;
  return view;
}

export function writeCapabilityUrl(view: CapabilityView): URLSearchParams {
  const params = new URLSearchParams();
  for (const name of [...IDS, 'from', 'to', 'row'] as const) {
    const value = view[name];
    if (value !== undefined) params.set(name, String(value));
  }
  return params;
}

/** A change of what is studied forgets what belonged to the former one. */
export function changeCapabilityView(view: CapabilityView, change: CapabilityView): CapabilityView {
  const next = { ...view, ...change };
  if ('product' in change || 'machine' in change || 'characteristic' in change) { delete next.unit; delete next.lane; delete next.row; delete next.from; delete next.to; }
  if ('unit' in change || 'lane' in change) delete next.row;
  return next;
}

/** The calendar day `days` later, or earlier when negative. */
export function shiftDay(day: string, days: number): string {
  const moment = new Date(`${day}T00:00:00Z`);
  moment.setUTCDate(moment.getUTCDate() + days);
  return moment.toISOString().slice(0, 10);
}

function isDay(text: string): boolean {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(text)) return false;
  const moment = new Date(`${text}T00:00:00Z`);
  return !Number.isNaN(moment.getTime()) && moment.toISOString().startsWith(text);
}

function idOf(text: string | null): number | undefined {
  return text !== null && /^[1-9]\d{0,9}$/.test(text) ? Number(text) : undefined;
}
