import { z } from 'zod';
import { endpoint } from './endpoint.js';
import { correctors, readers } from './roles.js';
import { id, idParams, moment, shortText } from './shapes.js';

export const calibrationResult = z.enum(['passed', 'adjusted', 'failed']);
export const calibration = z.object({ id, gaugeId: id, calibratedAt: moment, result: calibrationResult, certificate: z.string(), calibratedBy: z.string(), dueAt: moment.nullable(), note: z.string(), enteredBy: z.string(), enteredAt: moment });
export type Calibration = z.infer<typeof calibration>;

export const newCalibration = z.object({
  calibratedAt: moment, result: calibrationResult, certificate: shortText, calibratedBy: shortText,
  /** Null after one that failed: the gauge is not to be used. */
  dueAt: moment.nullable(), note: z.string().trim().max(2000).default(''),
}).superRefine(({ calibratedAt, result, dueAt }, context) => {
  if (result !== 'failed' && dueAt === null) context.addIssue({ code: 'custom', path: ['dueAt'], message: 'when it is due again' });
  if (dueAt !== null && Date.parse(dueAt) <= Date.parse(calibratedAt)) context.addIssue({ code: 'custom', path: ['dueAt'], message: 'a moment after the calibration' });
});

export const recordCalibration = endpoint({
  method: 'POST', path: '/api/gauges/:id/calibrations', feature: 'inspections', access: correctors, status: 201,
  summary: 'Record a calibration of a gauge', description: 'Never changed; a later entry for the same moment takes its place, and both stay.', params: idParams, body: newCalibration, answer: z.object({ id }), problems: ['not-found', 'wrong-state'],
});
export const listCalibrations = endpoint({
  method: 'GET', path: '/api/gauges/:id/calibrations', feature: 'inspections', access: readers, summary: 'The calibrations of a gauge, newest first', params: idParams, answer: z.object({ calibrations: z.array(calibration) }), problems: ['not-found'],
});
