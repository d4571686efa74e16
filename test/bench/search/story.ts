import type { StepKind } from '#canmaking/line/steps';

/** One kind of trouble as invented notes tell it; {unit}, {lot}, {shift}, {much} and {after} are filled in for each telling. All is invented. */
export type Story = {
  key: string; defect: string; step: StepKind;
  titles: readonly string[]; symptoms: readonly string[]; place: string; causes: readonly string[]; check: string; fixes: readonly string[]; verified: string;
};

export const story = (key: string, defect: string, step: StepKind, titles: readonly string[], symptoms: readonly string[], place: string, causes: readonly string[], check: string, fixes: readonly string[], verified: string): Story =>
  ({ key, defect, step, titles, symptoms, place, causes, check, fixes, verified });
