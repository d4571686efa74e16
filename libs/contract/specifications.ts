import { z } from 'zod';
import { endpoint } from './endpoint.js';
import { engineers, readers } from './roles.js';
import { firingSide as side, ruleName } from './rule-names.js';
import { finite, id, idText, moment } from './shapes.js';

const count = z.number().int().nonnegative();
const named = z.object({ id, code: z.string(), name: z.string() });
const part = z.object({ id, code: z.string() });
const number = finite.nullable();
const band = z.object({ lower: finite, centre: finite, upper: finite });

export const chartKind = z.enum(['xbar-r', 'xbar-s', 'i-mr']);
export const pointStatus = z.enum(['steady', 'signal', 'not-judged']);
const chartPart = z.enum(['mean', 'spread']);

/** What has a chart, with the names that a person knows it by. */
export const streamView = z.object({
  id,
  line: named, machine: named.extend({ stepKind: z.string() }),
  unit: part.nullable(), lane: part.nullable(),
  product: named,
  characteristic: named.extend({ unit: z.string(), decimals: count, gaugeStep: finite, formula: z.string().nullable() }),
  chartKind, basis: z.enum(['reading', 'can']), rules: z.array(ruleName),
  /** Grows with every change that the chart shows. */
  revision: count,
});
export type StreamView = z.infer<typeof streamView>;

export const streamListed = streamView.extend({ lastAt: moment.nullable(), hasLimits: z.boolean(), openSignals: count });
export type StreamListed = z.infer<typeof streamListed>;

export const listStreams = endpoint({
  method: 'GET', path: '/api/streams', feature: 'specifications', access: readers, auditor: 'filtered',
  summary: 'Streams (what has a chart) with their names, last subgroup and open signals, in the order of the line',
  query: z.object({ line: idText.optional(), machine: idText.optional(), product: idText.optional(), characteristic: idText.optional(), unit: idText.optional() }),
  answer: z.object({ streams: z.array(streamListed) }),
});

const streamParams = z.object({ streamId: idText });
const mostPoints = 20_000;
const spanQuery = z.object({
  last: z.coerce.number().int().min(1, `a number of subgroups from 1 to ${mostPoints}`).max(mostPoints, `a number of subgroups from 1 to ${mostPoints}`).optional(),
  from: moment.optional(), to: moment.optional(),
}).refine(({ from, to }) => !from || !to || new Date(from) <= new Date(to), { path: ['to'], message: 'a moment not before the beginning' });
export type ChartSpan = z.input<typeof spanQuery>;

/** One frozen set of limits: what from, by whom and why; and the lines it gives for each subgroup size on the chart. */
export const limitsView = z.object({
  id, kind: chartKind, centre: finite, sigma: finite, spreadCentre: finite, subgroups: count, readings: count,
  baselineFrom: moment, baselineTo: moment, effectiveFrom: moment, formula: z.string().nullable(),
  excluded: z.array(z.object({ takenAt: moment, sequence: z.number().int(), reason: z.string() })),
  author: z.string(), reason: z.string(), createdAt: moment,
  /** Lines by subgroup size n, for the sizes that the shown points have; `spread` is null where one reading has no spread. */
  bySize: z.array(z.object({ n: count, mean: band.extend({ sigma: finite }), spread: band.nullable() })),
});
export type LimitsView = z.infer<typeof limitsView>;

/** Every column holds one entry a point, in order of time. Numbers are in the unit of the characteristic. */
export const chartPoints = z.object({
  takenAt: z.array(moment), sequence: z.array(z.number().int()),
  n: z.array(count), mean: z.array(number),
  /** Range, sd, or the moving range between neighbours that share limits and formula, by the kind of chart. */
  spread: z.array(number),
  /** The limits that the point was judged by. */
  limitsId: z.array(id.nullable()),
  status: z.array(pointStatus),
});

export const chartFiring = z.object({ index: count, chart: chartPart, rule: ruleName, side, signalId: id, signalState: z.string() });
export const chartEvent = z.object({ id, kind: z.string(), at: moment, until: moment.nullable(), text: z.string(), machine: z.string().nullable() });

export const chartView = z.object({
  stream: streamView,
  points: chartPoints,
  /** True where the stream has subgroups before the first one shown. */
  older: z.boolean(),
  /** Rules that fired, by index of the point. */
  firings: z.array(chartFiring),
  /** All limits of the stream, oldest first; those that no shown point was judged by have no lines. */
  limits: z.array(limitsView),
  /** What happened on the machine, or on its whole line, in the time that is shown. */
  events: z.array(chartEvent),
}).meta({ id: 'ChartView' });
export type ChartView = z.infer<typeof chartView>;
export type ChartFiring = z.infer<typeof chartFiring>;

export const getChart = endpoint({
  method: 'GET', path: '/api/charts/:streamId', feature: 'specifications', access: readers, auditor: { thing: 'stream', at: 'params.streamId' },
  summary: 'The chart of one stream: points in columns, frozen limits, rules that fired, line events',
  description: `The last 500 subgroups, or the last ones of a span; at most ${mostPoints}. Everything is computed here: a client only draws. A point without limits is "not-judged", never "steady".`,
  params: streamParams, query: spanQuery, answer: chartView, problems: ['not-found'],
});

export const getChartCsv = endpoint({
  method: 'GET', path: '/api/charts/:streamId/csv', feature: 'specifications', access: readers, auditor: { thing: 'stream', at: 'params.streamId' },
  summary: 'The numbers of one chart as CSV (UTF-8, comma, point as decimal sign)',
  params: streamParams, query: spanQuery, answer: z.string(), answerType: 'text/csv', problems: ['not-found'],
});

export const chartPoint = z.object({
  takenAt: moment, sequence: z.number().int(), checkId: id,
  enteredBy: z.string(), inspector: z.string(), gauge: z.string().nullable(), source: z.string(),
  n: count, mean: number, range: number, sd: number, low: number, high: number, formula: z.string().nullable(),
  /** Can by can, position by position. */
  positions: z.array(z.string()),
  cans: z.array(z.object({ number: z.number().int(), readings: z.array(number) })),
  specification: z.object({ lsl: number, target: number, usl: number, revision: z.number().int() }).nullable(),
  outsideSpecification: count,
  limits: z.object({ id, mean: band, spread: band.nullable() }).nullable(),
  status: pointStatus,
  firings: z.array(z.object({ chart: chartPart, rule: ruleName, side, signalId: id, signalState: z.string() })),
  /** What corrections replaced, newest first. */
  revisions: z.array(z.object({ revision: z.number().int(), n: count, mean: number, replacedAt: moment, replacedBy: z.string(), reason: z.string() })),
}).meta({ id: 'ChartPoint' });
export type ChartPoint = z.infer<typeof chartPoint>;

export const getChartPoint = endpoint({
  method: 'GET', path: '/api/charts/:streamId/points', feature: 'specifications', access: readers, auditor: { thing: 'stream', at: 'params.streamId' },
  summary: 'One point of a chart: its readings, gauge, specification, limits, rules and corrections',
  params: streamParams, query: z.object({ takenAt: moment, sequence: z.coerce.number().int() }), answer: chartPoint, problems: ['not-found'],
});

export const chartCompared = z.object({
  stream: streamListed,
  takenAt: z.array(moment), mean: z.array(number), status: z.array(pointStatus),
  /** Lines for the newest judged point; null where nothing is judged. */
  limits: band.nullable(),
});
export type ChartCompared = z.infer<typeof chartCompared>;

export const compareCharts = endpoint({
  method: 'GET', path: '/api/charts/compare', feature: 'specifications', access: readers,
  summary: 'The same characteristic over machines, units and lanes, small and on one scale',
  description: 'At most 100 streams, in the order of the line; `scale` spans all means and limits shown.',
  query: z.object({
    characteristic: idText, product: idText.optional(), line: idText.optional(), machine: idText.optional(),
    last: z.coerce.number().int().min(2, 'a number of subgroups from 2 to 500').max(500, 'a number of subgroups from 2 to 500').default(60),
  }),
  answer: z.object({ charts: z.array(chartCompared), scale: z.object({ low: finite, high: finite }).nullable(), more: z.boolean() }).meta({ id: 'ChartComparison' }),
});

/** Fewer subgroups than this make no limits. Common practice asks for 20 to 25 (Montgomery, Introduction to Statistical Quality Control, ch. 6, from memory). */
export const leastBaseline = 20;

const why = z.string().trim().min(3, 'a reason of at least 3 characters').max(1000, 'a reason of at most 1000 characters');
const baselineFields = {
  from: moment, to: moment,
  /** Subgroups of the span that are left out: each with its reason, for example a known and removed cause. */
  excluded: z.array(z.object({ takenAt: moment, sequence: z.number().int(), reason: why })).max(500).default([]),
  /** From when on subgroups are judged by these limits; the start of the baseline unless given. */
  effectiveFrom: moment.optional(),
};
const inOrder = ({ from, to }: { from: string; to: string }) => new Date(from) < new Date(to);
const inOrderMessage = { path: ['to'], message: 'a moment after the beginning of the baseline' };
export const baseline = z.object(baselineFields).refine(inOrder, inOrderMessage).meta({ id: 'Baseline' });
export type Baseline = z.output<typeof baseline>;
export const newLimits = z.object({ ...baselineFields, reason: why }).refine(inOrder, inOrderMessage).meta({ id: 'NewLimits' });
export type NewLimits = z.output<typeof newLimits>;

export const limitsPreview = z.object({
  kind: chartKind, centre: finite, sigma: finite, spreadCentre: finite, subgroups: count, readings: count, formula: z.string().nullable(),
  effectiveFrom: moment,
  /** When other limits that were frozen before take over again; null: never. */
  until: moment.nullable(),
  bySize: limitsView.shape.bySize,
  /** How many subgroups would be judged by these limits, and what the rules see among them. */
  judged: count,
  firings: z.array(z.object({ takenAt: moment, sequence: z.number().int(), chart: chartPart, rule: ruleName, side, inBaseline: z.boolean() })),
}).meta({ id: 'LimitsPreview' });
export type LimitsPreview = z.infer<typeof limitsPreview>;

const freezing = 'Limits rest on every subgroup of the span that is not excluded: at least 20, all of one formula. They hold from `effectiveFrom` on, by default from the start of the baseline, so that the baseline itself and everything after it is judged, up to where limits that were frozen for a later time begin. ';

export const previewLimits = endpoint({
  method: 'POST', path: '/api/streams/:streamId/limits/preview', feature: 'specifications', access: engineers,
  summary: 'What limits a baseline would give, and what the rules would see; nothing is stored', description: freezing,
  params: streamParams, body: baseline, answer: limitsPreview, problems: ['not-found', 'too-little-data'],
});

export const freezeLimits = endpoint({
  method: 'POST', path: '/api/streams/:streamId/limits', feature: 'specifications', access: engineers,
  summary: 'Freeze the limits of a stream from a baseline',
  description: `${freezing}Earlier limits stay on record. Signals that no longer hold are withdrawn with that said, new ones are raised; closed signals stay as they were closed.`,
  status: 201, params: streamParams, body: newLimits,
  answer: z.object({ limits: limitsView, judged: count, raised: count }), problems: ['not-found', 'too-little-data'],
});

