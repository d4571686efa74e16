import type { CapabilityStudy } from '#contract/studies';
import type { StudyEntry, StudySpecification } from './study-entry.js';

type Judged = { streams: readonly StudyEntry[]; pooled: StudyEntry | null; used: StudySpecification | null; revisions: readonly unknown[]; fromTheStart: boolean; gaugeStep: number; measurement: CapabilityStudy['measurement'] };

/** A gauge that divides the tolerance into fewer than ten steps is called coarse: common practice, no source. */
const STEPS_IN_TOLERANCE = 10;

/** What must stand beside the figures, most serious first. */
export function cautionsOf({ streams, pooled, used, revisions, fromTheStart, gaugeStep, measurement }: Judged): CapabilityStudy['cautions'] {
  const some = (holds: (entry: StudyEntry) => boolean) => streams.some(holds);
  const all = pooled ? [...streams, pooled] : streams;
  const tolerance = used?.lsl == null || used.usl === null ? null : used.usl - used.lsl;
  const holding: readonly (readonly [CapabilityStudy['cautions'][number], boolean])[] = [
    ['not-stable', some((entry) => entry.stability.state === 'not-stable')],
    ['not-judged', some((entry) => entry.stability.notJudged > 0)],
    ['mixed-formulas', all.some((entry) => entry.refusal?.code === 'mixed-formulas')],
    ['no-specification', used === null],
    ['specification-changed', revisions.length > 1],
    ['specification-began', used !== null && !fromTheStart],
    ['few-data', some((entry) => entry.fewData)],
    ['pooled-hides', streams.length > 1],
    ['can-means', some((entry) => entry.basis === 'can' && entry.severalPositions && entry.method !== 'fraction')],
    ['several-members-an-individual', all.some((entry) => entry.figures?.withinGap === 'several-members-an-individual')],
    ['not-normal', all.some((entry) => entry.normality?.wording === 'not-normal')],
    ['calibration-overdue', some((entry) => entry.gauges.some((gauge) => gauge.overdue > 0)) || measurement.some(({ calibration }) => calibration === 'overdue' || calibration === 'failed')],
    ['gauge-unknown', some((entry) => entry.withoutGauge > 0)],
    // 1 % is allowed for rounding: 0.3 / 0.03 is not quite 10.
    ['coarse-gauge', tolerance !== null && gaugeStep * STEPS_IN_TOLERANCE > tolerance * 1.01],
    ['corrected', some((entry) => entry.corrected > 0)],
    ['no-gauge-study', measurement.length === 0 || measurement.some(({ study }) => study === null)],
    ['gauge-study-failed', measurement.some(({ study }) => study?.verdict === 'not-acceptable')],
    ['no-legal-minimum', all.some((entry) => entry.figures !== null)],
  ];
  return holding.flatMap(([caution, holds]) => (holds ? [caution] : []));
}
