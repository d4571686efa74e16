import { z } from 'zod';
import { finite, id, moment } from './shapes.js';

export const gaugeVerdict = z.enum(['acceptable', 'conditional', 'not-acceptable']);
export type GaugeVerdict = z.infer<typeof gaugeVerdict>;
export const calibrationState = z.enum(['in-calibration', 'overdue', 'failed', 'not-known', 'no-gauge']);

/** Whether a gauge was in calibration at a moment, and which approved study says that it can measure this characteristic. */
export const gaugeStanding = z.object({
  gauge: z.object({ id, code: z.string(), name: z.string() }).nullable(),
  at: moment,
  calibration: calibrationState,
  calibratedAt: moment.nullable(), dueAt: moment.nullable(), certificate: z.string().nullable(),
  /** The newest approved study of this gauge and characteristic; null: there is none. */
  study: z.object({ id, title: z.string(), design: z.string(), verdict: gaugeVerdict.nullable(), approvedAt: moment, ofTolerance: finite.nullable(), ofStudy: finite.nullable(), kappa: finite.nullable() }).nullable(),
}).meta({ id: 'GaugeStanding' });
export type GaugeStanding = z.infer<typeof gaugeStanding>;
