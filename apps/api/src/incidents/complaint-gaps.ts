import { gapChart } from '#statistics/charts/gap-chart';
import type { Panel } from '#statistics/charts/panel';
import { timeChart } from '#statistics/charts/time-chart';
import type { ComplaintGaps } from '#contract/incident-life';
import type { Tx } from '../platform/work.js';
import { type Complaint, type Counted, type CountingStep, countBetween, findCountingStep, listComplaints } from './complaint-gaps.store.js';

const DAY = 86_400_000;
// Limits from fewer gaps are rough: common practice, no source.
const FEW_GAPS = 20;
type Gap = ComplaintGaps['gaps'][number];
type Lines = NonNullable<ComplaintGaps['cansChart']>;

/** Cans and days between one complaint and the next, with the g chart and the t chart of them. One complaint is one event, however many cans it is about. */
export async function complaintGaps(tx: Tx, plantId: number, { customer, lineId, alpha }: { customer: string; lineId: number; alpha: number }): Promise<ComplaintGaps> {
  const complaints = await listComplaints(tx, plantId, customer, lineId);
  const step = await findCountingStep(tx, plantId, lineId);
  const spans = complaints.slice(1).map((to, place) => ({ from: (complaints[place] as Complaint).madeAt, to: to.madeAt }));
  const counted = step === null || spans.length === 0 ? [] : await countBetween(tx, plantId, step.machineIds, spans);
  const gaps = spans.map((_span, place) => gapOf(complaints[place] as Complaint, complaints[place + 1] as Complaint, step, counted[place]));
  const last = complaints.at(-1);
  const [open] = step !== null && last !== undefined && last.madeAt >= step.first && last.madeAt < step.last ? await countBetween(tx, plantId, step.machineIds, [{ from: last.madeAt, to: step.last }]) : [];
  const cansCounted = gaps.filter(({ cans }) => cans !== null).length;
  return {
    complaints: complaints.length, countedAt: step?.codes ?? [], gaps, ...charts(gaps, alpha),
    since: step !== null && open && open.cans !== null ? { cans: Math.round(open.cans), until: step.last.toISOString() } : null, few: cansCounted < FEW_GAPS,
  };
}

/** The cans are known only where counting went on from before the first can to after the second. Two complaints about one moment have no can between them. */
export function gapOf(from: Complaint, to: Complaint, step: Pick<CountingStep, 'first' | 'last'> | null, counted: Counted | undefined): Gap {
  const same = from.madeAt.getTime() === to.madeAt.getTime();
  const missing = step === null ? 'no-counts' : from.madeAt < step.first ? 'before-counts' : to.madeAt > step.last ? 'after-counts' : !same && (counted?.cans ?? null) === null ? 'no-counts' : null;
  return {
    fromId: from.id, toId: to.id, from: from.madeAt.toISOString(), to: to.madeAt.toISOString(), days: (to.madeAt.getTime() - from.madeAt.getTime()) / DAY,
    cans: missing !== null ? null : same ? 0 : Math.round(counted?.cans ?? 0), missing, longestHoleHours: same ? 0 : counted?.longestHoleHours ?? (to.madeAt.getTime() - from.madeAt.getTime()) / 3_600_000,
  };
}

function charts(gaps: readonly Gap[], alpha: number): Pick<ComplaintGaps, 'cansChart' | 'daysChart'> {
  const [cans, days] = [gaps.map((gap) => gap.cans), gaps.map((gap) => gap.days)];
  return {
    cansChart: orNone(() => {
      const { panel, meanGap, falseAlarm } = gapChart(cans, alpha);
      return linesOf(panel, meanGap, falseAlarm);
    }),
    daysChart: days.length < 2 ? null : orNone(() => {
      const { panel, meanTime } = timeChart(days, alpha);
      return linesOf(panel, meanTime, { below: alpha, above: alpha });
    }),
  };
}

function linesOf({ lower, centre, upper, out }: Panel, mean: number, { below, above }: { below: number; above: number }): Lines | null {
  const [middle, top] = [centre[0], upper[0]];
  if (typeof middle !== 'number' || typeof top !== 'number') return null;
  return { lower: lower[0] ?? null, centre: middle, upper: top, mean, below, above, out: [...out] };
}

/** Too few gaps, or all of them 0: there is no chart, and the gaps themselves are still shown. */
function orNone(compute: () => Lines | null): Lines | null {
  try {
    return compute();
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}
