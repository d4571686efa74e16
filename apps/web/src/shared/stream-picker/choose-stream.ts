import type { StreamListed } from '#contract/specifications';

/** From the line down to the lane: each choice narrows what the next ones offer. */
export const FACETS = ['line', 'machine', 'characteristic', 'product', 'unit', 'lane'] as const;
export type Facet = (typeof FACETS)[number];
export type FacetOption = { id: number; code: string; name: string | null };

const NONE = 0;
const partOf = (stream: StreamListed, facet: Facet): number => stream[facet]?.id ?? NONE;

/** What can be chosen for a facet beside the present stream, with all facets above it as they are. `id` 0: kept together. */
export function facetOptions(streams: readonly StreamListed[], current: StreamListed, facet: Facet): FacetOption[] {
  const above = FACETS.slice(0, FACETS.indexOf(facet));
  const beside = streams.filter((stream) => above.every((name) => partOf(stream, name) === partOf(current, name)));
  return [...new Map(beside.map((stream): [number, FacetOption] => {
    const part = stream[facet];
    return [part?.id ?? NONE, { id: part?.id ?? NONE, code: part?.code ?? '', name: part !== null && 'name' in part ? part.name : null }];
  })).values()];
}

/** The stream with this value of the facet that is most like the present one; of equal ones the one measured last. */
export function chooseStream(streams: readonly StreamListed[], current: StreamListed, facet: Facet, id: number): StreamListed {
  const place = FACETS.indexOf(facet);
  const candidates = streams.filter((stream) => partOf(stream, facet) === id && FACETS.slice(0, place).every((name) => partOf(stream, name) === partOf(current, name)));
  // A line has machines of its own: below it, what is measured counts first.
  const likeness = (stream: StreamListed) => FACETS.slice(place + 1).reduce((sum, name) => sum + (partOf(stream, name) === partOf(current, name) ? (name === 'characteristic' ? 8 : 1) : 0), 0);
  return candidates.reduce<StreamListed | null>((best, stream) => {
    if (best === null) return stream;
    const more = likeness(stream) - likeness(best);
    return more > 0 || (more === 0 && (stream.lastAt ?? '') > (best.lastAt ?? '')) ? stream : best;
  }, null) ?? current;
}

/** What to open when the address names no stream: one with an open signal, else the one measured last. */
export function firstStream(streams: readonly StreamListed[]): StreamListed | undefined {
  const urgent = streams.filter(({ openSignals }) => openSignals > 0);
  return (urgent.length > 0 ? urgent : streams).reduce<StreamListed | undefined>((best, stream) => (best === undefined || (stream.lastAt ?? '') > (best.lastAt ?? '') ? stream : best), undefined);
}
