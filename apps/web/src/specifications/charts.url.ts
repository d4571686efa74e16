/** What the charts page shows. Moments are ISO text in UTC, so that a copied address shows the same in every zone. */
export type ChartsView = { stream?: number; last?: number; from?: string; to?: string; zones?: boolean; point?: string; side?: boolean; freeze?: boolean };

export const LASTS = [100, 500, 2000, 10_000] as const;
const FLAGS = ['zones', 'side', 'freeze'] as const;

/** Reads the address; what is not understood is left out, so that an old or mistyped link still opens. */
export function readChartsUrl(params: URLSearchParams): ChartsView {
  const view: ChartsView = {};
  const stream = wholeNumber(params.get('stream'));
  if (stream !== undefined) view.stream = stream;
  const last = wholeNumber(params.get('last'));
  if (last !== undefined && last <= 20_000) view.last = last;
  for (const name of ['from', 'to'] as const) {
    const moment = isoMoment(params.get(name));
    if (moment !== undefined) view[name] = moment;
  }
  if (view.from !== undefined && view.to !== undefined && view.from > view.to) delete view.to;
  for (const name of FLAGS) if (params.get(name) === '1') view[name] = true;
  const [takenAt = '', sequence = ''] = (params.get('point') ?? '').split('~');
  const at = isoMoment(takenAt);
  if (at !== undefined && /^\d{1,9}$/.test(sequence)) view.point = `${at}~${sequence}`;
  return view;
}

export function writeChartsUrl(view: ChartsView): URLSearchParams {
  const params = new URLSearchParams();
  for (const name of ['stream', 'last', 'from', 'to', 'point'] as const) {
    const value = view[name];
    if (value !== undefined) params.set(name, String(value));
  }
  for (const name of FLAGS) if (view[name]) params.set(name, '1');
  return params;
}

/** Another stream keeps how it is looked at, and forgets the point and the baseline of the former one. */
export function changeChartsView(view: ChartsView, change: ChartsView): ChartsView {
  const next = { ...view, ...change };
  if ('stream' in change && change.stream !== view.stream) { delete next.point; delete next.freeze; }
  if (change.last !== undefined) { delete next.from; delete next.to; }
  if (change.from !== undefined || change.to !== undefined) delete next.last;
  return next;
}

/** What to ask the server for. */
export const spanOf = ({ last, from, to }: ChartsView): { last?: number; from?: string; to?: string } => ({ last: last ?? (from === undefined ? 500 : undefined), from, to });

export const pointKey = (takenAt: string, sequence: number): string => `${new Date(takenAt).toISOString()}~${sequence}`;

function wholeNumber(text: string | null): number | undefined {
  return text !== null && /^[1-9]\d{0,9}$/.test(text) ? Number(text) : undefined;
}

function isoMoment(text: string | null): string | undefined {
  if (text === null || !/^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}/.test(text)) return undefined;
  const moment = new Date(text);
  return Number.isNaN(moment.getTime()) ? undefined : moment.toISOString();
}
