import { z } from 'zod';
import { endpoint } from './endpoint.js';
import { engineers, readers } from './roles.js';
import { shortText } from './shapes.js';

const clock = z.string().regex(/^([01]\d|2[0-3]):[0-5]\d$/, 'a time of the day such as 06:00');
/** Times as the plant's clocks show them; an end that is not after the beginning is on the next day. Days: 1 Monday to 7 Sunday, those on which it begins. */
export const shiftView = z.object({ name: shortText, begins: clock, ends: clock, days: z.array(z.number().int().min(1, '1 to 7').max(7, '1 to 7')).min(1, 'one day or more').max(7) }).meta({ id: 'Shift' });
export type ShiftView = z.infer<typeof shiftView>;

export const listShifts = endpoint({ method: 'GET', path: '/api/shifts', feature: 'plant', access: readers, summary: 'The shifts of the plant', answer: z.object({ shifts: z.array(shiftView) }) });
export const setShifts = endpoint({
  method: 'PUT', path: '/api/shifts', feature: 'plant', access: engineers, summary: 'Say which shifts the plant works', description: 'The whole list replaces the one before; no two shifts may be on at the same time. Records of the past are shown with the shifts as they are set up now.',
  body: z.object({ shifts: z.array(shiftView).max(30, 'at most 30 shifts') }), answer: z.object({ shifts: z.array(shiftView) }),
});
