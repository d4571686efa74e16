import type { AnswerOf, RequestOf } from '#contract/endpoint';
import type { detectionPlan } from '#contract/workbench/power';
import type { PlanDraft } from './planner.url.js';
import { type Ground, readingSd } from './start-plans.js';

export type PlanBody = RequestOf<typeof detectionPlan>['body'];
export type PlanAnswer = AnswerOf<typeof detectionPlan>;

type Until = { mean: number | null; p95: number | null };
/** How much passes until a shift is seen; `cans` is null where the speed is not known. `sigma` counts sds of a single reading. */
export type Seen = { shift: number; sigma: number; isOwn: boolean; minutes: Until; cans: Until | null };
export type PlanFigures = {
  meanSd: number; falseAlarm: { points: number | null; days: number | null }; tornDownPerDay: number;
  /** The shifts of the table, and all of them for the curve. */
  shown: Seen[]; curve: Seen[];
};

/** In sds of a single reading. */
const SHOWN_SIGMAS: readonly number[] = [0.5, 1, 1.5, 2, 3];
const CURVE_SIGMAS: readonly number[] = Array.from({ length: 12 }, (_none, index) => (index + 1) / 4);

export type Wanted = { shift: number; sigma: number; isOwn: boolean };
/** The shifts that are asked for, the one of interest first: the same for every plan, so that answers can be laid side by side. */
export function wantedShifts({ sds, shift }: Pick<Ground, 'sds' | 'shift'>): Wanted[] {
  const sd = readingSd(sds);
  return [...(shift === null ? [] : [{ sigma: shift / sd, shift, isOwn: true }]), ...CURVE_SIGMAS.map((sigma) => ({ sigma, shift: sigma * sd, isOwn: false }))];
}

/** What to ask for one plan; null while nothing varies. */
export function planBody(ground: Ground, { cans, positions, everyMinutes, scheme }: PlanDraft): PlanBody | null {
  const { sds, speed, hours, limits } = ground;
  if (!(readingSd(sds) > 0)) return null;
  return {
    components: { check: sds.check ** 2, piece: sds.can ** 2, position: sds.position ** 2 }, piecesPerCheck: cans, positionsPerPiece: positions,
    intervalMinutes: everyMinutes, piecesPerMinute: speed ?? UNKNOWN_SPEED, hoursPerDay: hours, scheme, shifts: wantedShifts(ground).map(({ shift }) => shift), limitsInclude: limits,
  };
}

/** Where the speed is not known times are right and pieces are not shown. */
const UNKNOWN_SPEED = 1;

const isShown = ({ sigma, isOwn }: Wanted): boolean => isOwn || SHOWN_SIGMAS.includes(sigma);
/** The shifts of the table. */
export const shownShifts = (ground: Pick<Ground, 'sds' | 'shift'>): Wanted[] => wantedShifts(ground).filter(isShown);

export function figuresOf(answer: PlanAnswer, ground: Ground): PlanFigures {
  const seen = wantedShifts(ground).flatMap((wanted, index): Seen[] => {
    const found = answer.perShift[index];
    return found ? [{ ...wanted, minutes: found.minutes, cans: ground.speed === null ? null : found.pieces }] : [];
  });
  return {
    meanSd: answer.sigmaOfPoint, falseAlarm: { points: answer.falseAlarm.arl, days: answer.falseAlarm.days }, tornDownPerDay: answer.tornDownPerDay,
    shown: seen.filter(isShown), curve: seen.filter(({ isOwn }) => !isOwn),
  };
}
