import type { StepKind } from '#canmaking/line/steps';

/** All texts are invented; causes and fixes are common practice, no source. */
export type SeedNote = {
  title: string; symptom: string;
  /** Where on the can and on the line. */
  place: string;
  cause: string; howToCheck: string; fix: string; verified: string;
  defectCode: string; stepKind: StepKind;
  /** Null: holds for any machine of the step. */
  machineCode: string | null;
  /** A login. */
  author: string;
  /** Before the end of the scenario. */
  daysAgo: number;
};
