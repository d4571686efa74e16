import { type PlannedScheme, type VariationSource, variationSource } from '#contract/planner';
import { ruleName } from '#contract/rule-names';

export const SOURCES = variationSource.options;
/** One plan to compare: cans a check, positions a can, minutes between checks, and the chart that judges. */
export type PlanDraft = { cans: number; positions: number; everyMinutes: number; scheme: PlannedScheme };
/** Limits from the spread within checks, or from the steps between checks. */
export const LIMITS = ['short-term', 'long-term'] as const;
export type LimitsInclude = (typeof LIMITS)[number];

/** What the Planner shows. Figures that are not here are those of the stream. Standard deviations and the shift are in the unit of the characteristic. */
export type PlannerView = {
  stream?: number; typed?: boolean; from?: string; to?: string;
  sds?: Partial<Record<VariationSource, number>>; unit?: string; speed?: number; hours?: number; shift?: number; limits?: LimitsInclude;
  plans: PlanDraft[]; takeOver?: number;
};

export const MOST_PLANS = 4;
/** What a check plan can hold, and what a chart can be built with. */
export const BOUNDS = { cans: [1, 100], positions: [1, 24], everyMinutes: [1, 10_080], lambda: [0.01, 1], width: [0.1, 10], k: [0, 5], h: [0.1, 50], sd: [0, 1e9], speed: [0.01, 100_000], hours: [0.1, 24], shift: [1e-9, 1e9] } as const;
export type Bounded = keyof typeof BOUNDS;
const WHOLE: readonly Bounded[] = ['cans', 'positions', 'everyMinutes'];

/** A typed number, with point or comma, where it is one that can be; else null. */
export function readFigure(text: string, name: Bounded): number | null {
  const trimmed = text.trim().replace(',', '.');
  if (!/^\d{1,12}(\.\d{0,12})?(e-?\d{1,2})?$/i.test(trimmed)) return null;
  const value = Number(trimmed);
  const [least, most] = BOUNDS[name];
  return value >= least && value <= most && (!WHOLE.includes(name) || Number.isInteger(value)) ? value : null;
}

/** Reads the address; what is not understood is left out, so that an old or mistyped link still opens. */
export function readPlannerUrl(params: URLSearchParams): PlannerView {
  const view: PlannerView = { plans: params.getAll('plan').flatMap((text) => planOf(text) ?? []).slice(0, MOST_PLANS) };
  for (const name of ['stream', 'takeOver'] as const) {
    const text = params.get(name);
    if (text !== null && /^[1-9]\d{0,9}$/.test(text)) view[name] = Number(text);
  }
  if (params.get('typed') === '1') { view.typed = true; delete view.stream; delete view.takeOver; }
  for (const name of ['from', 'to'] as const) {
    const moment = isoMoment(params.get(name));
    if (moment !== undefined) view[name] = moment;
  }
  if (view.from !== undefined && view.to !== undefined && view.from > view.to) delete view.to;
  for (const source of SOURCES) {
    const value = readFigure(params.get(`sd-${source}`) ?? '', 'sd');
    if (value !== null) view.sds = { ...view.sds, [source]: value };
  }
  for (const name of ['speed', 'hours', 'shift'] as const) {
    const value = readFigure(params.get(name) ?? '', name);
    if (value !== null) view[name] = value;
  }
  const unit = params.get('unit')?.trim();
  if (unit && unit.length <= 12) view.unit = unit;
  const limits = LIMITS.find((name) => name === params.get('limits'));
  if (limits) view.limits = limits;
  return view;
}

export function writePlannerUrl(view: PlannerView): URLSearchParams {
  const params = new URLSearchParams();
  for (const name of ['stream', 'from', 'to', 'unit', 'speed', 'hours', 'shift', 'limits', 'takeOver'] as const) {
    const value = view[name];
    if (value !== undefined) params.set(name, String(value));
  }
  if (view.typed) params.set('typed', '1');
  for (const source of SOURCES) {
    const value = view.sds?.[source];
    if (value !== undefined) params.set(`sd-${source}`, String(value));
  }
  for (const plan of view.plans) params.append('plan', planText(plan));
  return params;
}

/** Another stream keeps the plans, and forgets the figures that were of the former one. */
export function changePlannerView(view: PlannerView, change: Partial<PlannerView>): PlannerView {
  const next = { ...view, ...change };
  if (('stream' in change && change.stream !== view.stream) || 'typed' in change) {
    for (const name of ['sds', 'unit', 'speed', 'hours', 'shift', 'limits', 'takeOver', 'from', 'to'] as const) if (!(name in change)) delete next[name];
  }
  if ('plans' in change && !('takeOver' in change)) delete next.takeOver;
  return next;
}

/** "5_3_90_rules_beyond-limits.two-of-three", "5_3_90_ewma_0.2_2.86", "5_3_90_cusum_0.5_5". */
function planText({ cans, positions, everyMinutes, scheme }: PlanDraft): string {
  const chart = scheme.kind === 'rules' ? [scheme.rules.join('.')] : scheme.kind === 'ewma' ? [scheme.lambda, scheme.width] : [scheme.k, scheme.h];
  return [cans, positions, everyMinutes, scheme.kind, ...chart].join('_');
}

function planOf(text: string): PlanDraft | null {
  const [cansText = '', positionsText = '', everyText = '', kind, first = '', second = ''] = text.split('_');
  const [cans, positions, everyMinutes] = [readFigure(cansText, 'cans'), readFigure(positionsText, 'positions'), readFigure(everyText, 'everyMinutes')];
  if (cans === null || positions === null || everyMinutes === null) return null;
  const scheme = schemeOf(kind, first, second);
  return scheme && { cans, positions, everyMinutes, scheme };
}

function schemeOf(kind: string | undefined, first: string, second: string): PlannedScheme | null {
  if (kind === 'rules') {
    const rules = first.split('.').flatMap((name) => ruleName.options.find((known) => known === name) ?? []);
    return rules.length > 0 ? { kind, rules: [...new Set(rules)] } : null;
  }
  if (kind === 'ewma') {
    const [lambda, width] = [readFigure(first, 'lambda'), readFigure(second, 'width')];
    return lambda === null || width === null ? null : { kind, lambda, width };
  }
  if (kind !== 'cusum') return null;
  const [k, h] = [readFigure(first, 'k'), readFigure(second, 'h')];
  return k === null || h === null ? null : { kind, k, h };
}

function isoMoment(text: string | null): string | undefined {
  if (text === null || !/^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}/.test(text)) return undefined;
  const moment = new Date(text);
  return Number.isNaN(moment.getTime()) ? undefined : moment.toISOString();
}
