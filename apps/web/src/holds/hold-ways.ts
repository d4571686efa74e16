import type { PlantTree } from '#contract/plant';
import { asOne, type Bounds, chain, placed } from '#tracing/stretches';
import type { HoldDraft } from './hold-draft.js';

type Line = Pick<PlantTree['lines'][number], 'id' | 'steps' | 'stretches'>;
/** The stretches from one step to a later one, and all of them as one. */
export type Way = { parts: (Bounds & { from: string; to: string })[]; total: Bounds };
export type Typed = { back: boolean; forward: boolean };

/** What the plant set up between two steps; null where no chain of stretches leads there. No parts: it is the same step. */
export function wayBetween({ steps, stretches }: Pick<Line, 'steps' | 'stretches'>, fromStepId: number, toStepId: number): Way | null {
  const place = (stepId: number) => steps.findIndex(({ id }) => id === stepId);
  const [from, to] = [place(fromStepId), place(toStepId)];
  const way = from < 0 || to < from ? null : chain(placed({ steps, stretches }), from, to);
  return way && { parts: way.map((stretch) => ({ ...stretch, from: steps[stretch.from]?.kind ?? '', to: steps[stretch.to]?.kind ?? '' })), total: asOne(way) };
}

/** From where the fault began to where the span was sampled, and from there to the end of the line; null where it is not known. */
export function holdWays(line: Line | undefined, draft: Pick<HoldDraft, 'stepId' | 'machineId' | 'suspectStepId'>): { back: Way | null; forward: Way | null } {
  const sampled = sampledStep(line, draft);
  const last = line?.steps.find(({ kind }) => kind === 'palletizer') ?? line?.steps.at(-1);
  if (!line || !sampled) return { back: null, forward: null };
  return { back: draft.suspectStepId === '' ? null : wayBetween(line, Number(draft.suspectStepId), sampled.id), forward: last ? wayBetween(line, sampled.id, last.id) : null };
}

const sampledStep = (line: Line | undefined, { stepId, machineId }: Pick<HoldDraft, 'stepId' | 'machineId'>) => line?.steps.find(({ id, machines }) => (stepId === '' ? machines.some((machine) => String(machine.id) === machineId) : String(id) === stepId));

/** The draft with the step of its machine and the times that are set up for its ways; what a person typed stays. A fault that would begin at or after the sampled step is taken to begin there. */
export function withWays(draft: HoldDraft, lines: readonly Line[], typed: Typed): HoldDraft {
  const line = lines.find(({ id }) => String(id) === draft.lineId);
  const sampled = sampledStep(line, draft);
  const suspect = line?.steps.find(({ id }) => String(id) === draft.suspectStepId);
  const suspectStepId = sampled && suspect && suspect.position >= sampled.position ? '' : draft.suspectStepId;
  const { back, forward } = holdWays(line, { ...draft, suspectStepId });
  const seconds = (way: Way | null) => [String(way?.total.shortestSeconds ?? 0), String(way?.total.longestSeconds ?? 0)] as const;
  const [backShortest, backLongest] = typed.back ? [draft.backShortest, draft.backLongest] : seconds(back);
  const [forwardShortest, forwardLongest] = typed.forward ? [draft.forwardShortest, draft.forwardLongest] : seconds(forward);
  return { ...draft, stepId: draft.stepId === '' ? String(sampled?.id ?? '') : draft.stepId, suspectStepId, backShortest, backLongest, forwardShortest, forwardLongest };
}
