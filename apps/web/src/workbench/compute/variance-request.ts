import type { RequestOf } from '#contract/endpoint';
import type { chartToUse, memoryOfReadings, partOfVariation } from '#contract/workbench/choosing';
import { MOST_VALUES } from '#contract/workbench/method';
import type { Choices } from '../choices.js';
import type { FormedData } from '../form/form-data.js';
import type { Nesting } from '../form/nesting.js';
import type { ChartAnswer } from '../results/workbench-chart.figure.js';

type BodyOf<E> = RequestOf<E>['body'];

/** Asks how the variation parts by the levels; null where nothing is nested, several products differ anyway, or labels and readings are too many for one request. */
export function varianceRequest(nesting: Nesting | null, data: FormedData | null, confidence: number): BodyOf<typeof partOfVariation> | null {
  if (!nesting || !data || ('products' in data && data.products !== null)) return null;
  if (nesting.values.length * (nesting.levels.length + 1) > MOST_VALUES) return null;
  const groups = nesting.levels.reduce<string[]>((keys, { labels }) => labels.map((label, row) => `${keys[row] ?? ''} ${label}`), []);
  // Without two groups, and two readings in one of them, there is nothing to part.
  const distinct = new Set(groups).size;
  return distinct < 2 || distinct === groups.length ? null : { ...nesting, confidence };
}

/** Asks which chart suits; null for counts and gaps, whose chart follows from what they are. */
export function recommendRequest(data: FormedData | null, members: Choices['members']): BodyOf<typeof chartToUse> | null {
  if (data?.type === 'values') return data.products ? { subgroups: data.values.map((value) => [value]), products: new Set(data.products.names).size } : null;
  if (data?.type !== 'subgroups') return null;
  return { subgroups: data.subgroups, members, products: data.products ? new Set(data.products.names).size : 1 };
}

const REMEMBERING: ReadonlySet<string> = new Set(['mean', 'individual']);
/** Asks whether the plotted means or readings remember the ones before; eight are the fewest that can tell. */
export function memoryRequest(chart: ChartAnswer | undefined): BodyOf<typeof memoryOfReadings> | null {
  const panel = chart?.panels[0];
  if (!panel || !REMEMBERING.has(panel.statistic)) return null;
  return panel.points.filter((value) => value !== null).length >= 8 && new Set(panel.points).size > 2 ? { values: [...panel.points] } : null;
}
