import { Problem } from '#contract/problem';
import type { Baseline, LimitsPreview } from '#contract/specifications';
import type { RuleName } from '#statistics/rules/verdict';
import type { StoredPoint } from '../inspections/subgroups.store.js';
import type { Tx } from '../platform/work.js';
import { linesBySize } from '../specifications/limits.view.js';
import { findStream } from '../specifications/streams.store.js';
import { firingsOf } from './judge-streams.js';
import { isFor, judgedBy, planLimits } from './plan-limits.js';

/** What freezing would do, without doing it: the same plan and the same rules as the flow. */
export async function previewLimits(tx: Tx, plantId: number, streamId: number, asked: Baseline): Promise<LimitsPreview> {
  const stream = await findStream(tx, plantId, streamId);
  if (!stream) throw new Problem('not-found', `There is no stream ${streamId}.`);
  const plan = await planLimits(tx, plantId, stream, asked);
  const series = judgedBy(plan, PREVIEW);
  const limits = new Map([...plan.known.map((entry) => [entry.id, entry] as const), [PREVIEW, plan.basis] as const]);
  const judged = series.points.filter((point) => point.limitsId === PREVIEW && point.mean !== null);
  const firings = firingsOf({ stream, ...series }, limits).flatMap(({ index, chart, rule, side }) => {
    const point = series.points[index] as StoredPoint;
    const { takenAt, sequence } = point;
    return isFor(plan, point) ? [{ takenAt: takenAt.toISOString(), sequence, chart, rule: rule as RuleName, side, inBaseline: takenAt >= plan.from && takenAt <= plan.to }] : [];
  });
  return {
    ...plan.basis, formula: plan.formula, effectiveFrom: plan.effectiveFrom.toISOString(), until: plan.until?.toISOString() ?? null,
    bySize: linesBySize(plan.basis, judged.map(({ n }) => n)), judged: judged.length, firings,
  };
}

/** No stored limits have this id. */
const PREVIEW = 0;
