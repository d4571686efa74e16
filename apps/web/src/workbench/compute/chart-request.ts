import type { RequestOf } from '#contract/endpoint';
import type { chart } from '#contract/workbench/charts';
import type { Choices, Kind } from '../choices.js';
import type { FormedData, Products } from '../form/form-data.js';
import { readTyped } from '../form/read-typed.js';

export type ChartBody = RequestOf<typeof chart>['body'];
/** What keeps a chart from being asked for, beside the field that it belongs to. */
export type ChartFault = 'baseline' | 'lambda' | 'allowance' | 'interval' | 'heads';

/** The kinds of chart that can show data of this form; the first is the usual one. */
export function kindsFor(data: FormedData, choices: Pick<Choices, 'counted' | 'event'>): readonly Kind[] {
  switch (data.type) {
    case 'values': return [...several(data), 'i-mr', 'ewma', 'cusum'];
    case 'subgroups': {
      const largest = data.subgroups.reduce((most, members) => Math.max(most, members.length), 0);
      const usual: Kind[] = largest > 10 ? ['xbar-s', 'xbar-r'] : ['xbar-r', 'xbar-s'];
      return [...several(data), ...usual, 'between-within', 'ewma', 'cusum', ...(data.heads && data.heads.length >= 2 ? ['group' as const] : [])];
    }
    case 'counts': {
      if (choices.counted === 'units') return typeof data.sizes === 'number' ? ['p', 'np', 'p-prime'] : ['p', 'p-prime'];
      return data.sizes === null ? ['c'] : ['u', 'u-prime', ...(typeof data.sizes === 'number' ? ['c' as const] : [])];
    }
    case 'events': return choices.event === 'gaps' ? ['g'] : ['t'];
  }
}

const several = ({ products }: { products: unknown }): Kind[] => (products === null ? [] : ['deviation-from-nominal']);

/** The kind that was chosen, where the data allow it, else the usual one. */
export function kindOf(data: FormedData, choices: Choices): Kind {
  const kinds = kindsFor(data, choices);
  const wanted = kinds.find((kind) => kind === choices.kind);
  return wanted ?? kinds[0] ?? 'i-mr';
}

const inRange = (text: string, least: number, most: number): number | null => { const value = readTyped(text); return typeof value === 'number' && value >= least && value <= most ? value : null; };

/** The request for a chart, or the fields that are not finished. */
export function chartRequest(data: FormedData, choices: Choices, kind: Kind): { body: ChartBody } | { faults: readonly ChartFault[] } {
  const judged = { rules: choices.rules, patternsOnSkewed: choices.patternsOnSkewed };
  const faults: ChartFault[] = [];
  const takesBaseline = kind === 'i-mr' || kind === 'xbar-r' || kind === 'xbar-s';
  const points = data.type === 'values' ? data.values.length : data.type === 'subgroups' ? data.subgroups.length : 0;
  const baseline = readTyped(choices.baseline);
  if (takesBaseline && baseline !== null && (baseline === 'bad' || !Number.isInteger(baseline) || baseline < 2 || baseline > points)) faults.push('baseline');
  const first = takesBaseline && typeof baseline === 'number' ? { baseline } : {};
  const target = readTyped(choices.target);
  const weighted = { ...(typeof target === 'number' ? { target } : {}), ...(data.type === 'subgroups' ? { subgroups: data.subgroups } : data.type === 'values' ? { values: data.values } : {}) };
  const [lambda, allowance, interval] = [inRange(choices.lambda, 0.001, 1), inRange(choices.allowance, 0, 10), inRange(choices.interval, 0.1, 100)];
  if (kind === 'ewma' && lambda === null) faults.push('lambda');
  if (kind === 'cusum' && allowance === null) faults.push('allowance');
  if (kind === 'cusum' && interval === null) faults.push('interval');
  if (kind === 'group' && !(data.type === 'subgroups' && data.heads)) faults.push('heads');
  if (faults.length > 0) return { faults };
  const body = bodyOf(data, kind, { judged, first, weighted, lambda: lambda ?? 0.2, k: allowance ?? 0.5, h: interval ?? 5 });
  return body ? { body } : { faults };
}

/** Made once for the same readings, so that a request that asks the same is the same. */
function once<From extends object, To>(make: (from: From) => To): (from: From) => To {
  const made = new WeakMap<From, { to: To }>();
  return (from) => {
    const known = made.get(from) ?? { to: make(from) };
    made.set(from, known);
    return known.to;
  };
}
const checksOf = once((subgroups: readonly (number | null)[][]) => subgroups.map((members) => members.map((value) => [value])));
const headsOf = once((heads: readonly string[]) => [...heads]);

type Checks = { product: string; nominal: number; readings: (number | null)[] }[];
const deviations = new WeakMap<Products, Checks>();
/** Kept by the products, which are made with the readings. */
function deviationsOf({ products, readings }: { products: Products; readings: readonly (number | null | readonly (number | null)[])[] }): Checks {
  const made = deviations.get(products) ?? readings.map((entry, index) => ({ product: products.names[index] ?? '', nominal: products.nominals[index] ?? 0, readings: Array.isArray(entry) ? [...(entry as readonly (number | null)[])] : [entry as number | null] }));
  deviations.set(products, made);
  return made;
}

type Parts = { judged: Pick<Choices, 'rules' | 'patternsOnSkewed'>; first: { baseline?: number }; weighted: { target?: number; values?: (number | null)[]; subgroups?: (number | null)[][] }; lambda: number; k: number; h: number };
function bodyOf(data: FormedData, kind: Kind, { judged, first, weighted, lambda, k, h }: Parts): ChartBody | null {
  if (kind === 'ewma') return { kind, ...weighted, lambda, ...judged };
  if (kind === 'cusum') return { kind, ...weighted, k, h, ...judged };
  switch (data.type) {
    case 'values':
      if (kind === 'deviation-from-nominal') return data.products && { kind, chart: 'i-mr', checks: deviationsOf({ products: data.products, readings: data.values }), ...judged };
      return kind === 'i-mr' ? { kind, values: data.values, ...first, ...judged } : null;
    case 'subgroups': {
      if (kind === 'xbar-r' || kind === 'xbar-s') return { kind, subgroups: data.subgroups, ...first, ...judged };
      if (kind === 'deviation-from-nominal') return data.products && { kind, chart: data.subgroups.some((members) => members.length > 10) ? 'xbar-s' : 'xbar-r', checks: deviationsOf({ products: data.products, readings: data.subgroups }), ...judged };
      if (kind === 'between-within') return { kind, subgroups: data.subgroups, ...judged };
      if (kind === 'group' && data.heads) return { kind, heads: headsOf(data.heads), checks: checksOf(data.subgroups), ...judged };
      return null;
    }
    case 'counts': {
      const { counts, sizes } = data;
      if (kind === 'c') return { kind, counts, ...judged };
      if (kind === 'np') return typeof sizes === 'number' ? { kind, counts, size: sizes, ...judged } : null;
      if (sizes !== null && (kind === 'p' || kind === 'p-prime' || kind === 'u' || kind === 'u-prime')) return { kind, counts, sizes, ...judged };
      return null;
    }
    case 'events': return kind === 'g' ? { kind, gaps: data.gaps, ...judged } : kind === 't' ? { kind, times: data.gaps, ...judged } : null;
  }
}
