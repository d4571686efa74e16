import { z } from 'zod';
import { gaugeVerdict } from '#contract/gauge-standing';
import { gaugeDesign } from '#contract/gauge-studies';
import type { Tx } from '../platform/work.js';

const calibration = z.object({ id: z.number(), code: z.string(), name: z.string(), result: z.string().nullable(), calibratedAt: z.date().nullable(), dueAt: z.date().nullable(), certificate: z.string().nullable() });
export type CalibrationAt = z.infer<typeof calibration>;

/** The gauge with its last calibration at a moment. Before the first one on record, the due date that stood before it; with none, the one of the set-up. */
export async function findCalibrationAt(tx: Tx, plantId: number, gaugeId: number, at: Date): Promise<CalibrationAt | null> {
  const [row] = await tx.$queryRaw<unknown[]>`
    SELECT g.id, g.code, g.name, c.result, c.calibrated_at AS "calibratedAt", c.certificate,
      CASE WHEN c.id IS NOT NULL THEN c.due_at WHEN f.id IS NOT NULL THEN f.previous_due ELSE g.calibration_due END AS "dueAt"
    FROM gauge g
    LEFT JOIN LATERAL (SELECT * FROM gauge_calibration x WHERE x.plant_id = g.plant_id AND x.gauge_id = g.id AND x.calibrated_at <= ${at.toISOString()}::timestamptz ORDER BY x.calibrated_at DESC, x.id DESC LIMIT 1) c ON true
    LEFT JOIN LATERAL (SELECT * FROM gauge_calibration x WHERE x.plant_id = g.plant_id AND x.gauge_id = g.id ORDER BY x.id LIMIT 1) f ON true
    WHERE g.plant_id = ${plantId} AND g.id = ${gaugeId}`;
  return row === undefined ? null : calibration.parse(row);
}

const approved = z.object({ id: z.number(), title: z.string(), design: z.string(), verdict: gaugeVerdict.nullable(), approvedAt: z.date(), ofTolerance: z.number().nullable(), ofStudy: z.number().nullable(), kappa: z.number().nullable() });
export type ApprovedGaugeStudy = z.infer<typeof approved>;

/** The newest that says how much the gauge scatters; a study of its bias proves no gauge by itself. */
export async function findApprovedGaugeStudy(tx: Tx, plantId: number, gaugeId: number | null, characteristicId: number): Promise<ApprovedGaugeStudy | null> {
  const [row] = await tx.$queryRaw<unknown[]>`
    SELECT s.id, s.title, s.question->>'design' AS design, s.verdict, s.approved_at AS "approvedAt",
      (SELECT (j->>'value')::float8 FROM jsonb_array_elements(s.results->'judged') j WHERE j->>'figure' = 'of-tolerance') AS "ofTolerance",
      (SELECT (j->>'value')::float8 FROM jsonb_array_elements(s.results->'judged') j WHERE j->>'figure' = 'of-study') AS "ofStudy",
      (SELECT (j->>'value')::float8 FROM jsonb_array_elements(s.results->'judged') j WHERE j->>'figure' = 'kappa') AS kappa
    FROM study_record s WHERE s.plant_id = ${plantId} AND s.kind = 'gauge' AND s.state = 'approved' AND s.characteristic_id = ${characteristicId} AND s.gauge_id IS NOT DISTINCT FROM ${gaugeId}::int AND s.question->>'design' <> 'bias'
    ORDER BY s.approved_at DESC, s.id DESC LIMIT 1`;
  return row === undefined ? null : approved.parse(row);
}

const listed = z.object({ id: z.number(), code: z.string(), name: z.string(), studies: z.array(z.object({ id: z.number(), characteristic: z.string(), design: gaugeDesign, unbiased: z.boolean().nullable(), verdict: gaugeVerdict.nullable(), approvedAt: z.string() })) });

/** Gauges in use with their approved studies, by code. */
export async function listGaugesInUse(tx: Tx, plantId: number): Promise<z.infer<typeof listed>[]> {
  return z.array(listed).parse(await tx.$queryRaw`
    SELECT g.id, g.code, g.name, (SELECT coalesce(jsonb_agg(jsonb_build_object('id', s.id, 'characteristic', c.name, 'design', s.question->>'design', 'unbiased', s.results->'bias'->'unbiased', 'verdict', s.verdict, 'approvedAt', to_char(s.approved_at AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"')) ORDER BY c.name, s.id DESC), '[]')
      FROM study_record s JOIN characteristic c ON c.plant_id = s.plant_id AND c.id = s.characteristic_id WHERE s.plant_id = g.plant_id AND s.gauge_id = g.id AND s.kind = 'gauge' AND s.state = 'approved') AS studies
    FROM gauge g WHERE g.plant_id = ${plantId} AND g.retired_at IS NULL ORDER BY g.code LIMIT 500`);
}
