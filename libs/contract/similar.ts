import { z } from 'zod';
import { endpoint } from './endpoint.js';
import { noteReason } from './knowledge.js';
import { readers } from './roles.js';
import { finite, id, idParams, moment } from './shapes.js';

/** An incident that resembles another one or a signal, with why. */
export const similarIncident = z.object({
  id, defectName: z.string(), customer: z.string().nullable(), state: z.string().nullable(), symptom: z.string(), cause: z.string(), fix: z.string(),
  changedAt: moment, score: finite, reasons: z.array(noteReason),
}).meta({ id: 'SimilarIncident' });
export type SimilarIncident = z.infer<typeof similarIncident>;

const answer = z.object({ incidents: z.array(similarIncident) });
const description = 'At most five, best first. A resemblance of words, place, defect and machine: it says where to look, not what the cause is.';
export const similarToIncident = endpoint({ method: 'GET', path: '/api/incidents/:id/similar', feature: 'knowledge', access: readers, summary: 'Incidents that resemble this one', description, params: idParams, answer, problems: ['not-found'] });
export const similarToSignal = endpoint({ method: 'GET', path: '/api/signals/:id/similar', feature: 'knowledge', access: readers, summary: 'Incidents that resemble a signal', description, params: idParams, answer, problems: ['not-found'] });
