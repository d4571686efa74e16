import { cautionFor } from '#canmaking/defects/cautions';
import { likelyOrigins } from '#canmaking/defects/likely-origins';
import { defects, leakPlaces } from '#canmaking/defects/taxonomy';
import { stepKinds } from '#canmaking/line/steps';
import type { AnswerOf } from '#contract/endpoint';
import type { listDefects as contract } from '#contract/knowledge';

const cautions = [
  'Leaking or under-processed cans of low-acid food can kill. This tool informs; it never releases product.',
  'Hold and release are decided by the plant, its process authority, local law and the customer’s specification.',
  'Severity classes of different schemes serve different purposes: they stand side by side and are not translated into each other.',
  'Causes and checks are common practice with no source unless a source is named.',
] as const;

/** The taxonomy as it is in libs/canmaking, with the cautions that belong beside it. */
export function listDefects(): AnswerOf<typeof contract> {
  return {
    defects: defects.map(({ severities, upstreamSteps, causes, sources, ...defect }) => ({
      ...defect, severities: severities.map((severity) => ({ ...severity })), upstreamSteps: [...upstreamSteps], causes: [...causes], sources: [...sources],
      origins: likelyOrigins(defect.code).map((origin) => ({ ...origin, characteristics: [...origin.characteristics] })).sort((a, b) => b.weight - a.weight),
      caution: cautionFor(defect.code) ?? cautions[1],
    })),
    leakPlaces: [...leakPlaces], stepKinds: [...stepKinds], cautions: [...cautions],
  };
}
