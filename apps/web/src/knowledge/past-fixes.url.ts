/** What the search page shows, as its address says it. */
export type PastFixesView = { q: string; defect?: string; step?: string; machine?: string; kind?: 'note' | 'incident'; verified?: 'true' | 'false'; meaning?: string };

const FACETS = ['defect', 'step', 'machine'] as const;

export function readPastFixesUrl(params: URLSearchParams): PastFixesView {
  const view: PastFixesView = { q: (params.get('q') ?? '').slice(0, 400) };
  for (const name of FACETS) {
    const value = params.get(name)?.trim();
    if (value && value.length <= 40) view[name] = value;
  }
  const kind = params.get('kind');
  if (kind === 'note' || kind === 'incident') view.kind = kind;
  const verified = params.get('verified');
  if (verified === 'true' || verified === 'false') view.verified = verified;
  const meaning = params.get('meaning')?.trim();
  if (meaning && meaning.length <= 200) view.meaning = meaning;
  return view;
}

export function writePastFixesUrl(view: PastFixesView): URLSearchParams {
  const params = new URLSearchParams();
  for (const name of ['q', ...FACETS, 'kind', 'verified', 'meaning'] as const) {
    const value = view[name];
    if (value !== undefined && value !== '') params.set(name, value);
  }
  return params;
}
