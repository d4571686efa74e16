/** Kinds of steps of a welded three-piece line, in process order (open teaching order: slit, form, weld, coat, flange, seam, test). */
export const stepKinds = [
  'slitter', 'body-maker', 'stripe-applicator', 'curing-oven', 'parter', 'necker', 'flanger', 'beader', 'seamer', 'tester', 'palletizer',
] as const;

export type StepKind = (typeof stepKinds)[number];

/** Position in process order, 0 for the slitter. */
export function stepOrder(kind: StepKind): number {
  return stepKinds.indexOf(kind);
}

export function isStepKind(value: string): value is StepKind {
  return stepKinds.some((kind) => kind === value);
}
