import { z } from 'zod';

/** Years that the database and the calendars of zones agree about. */
function isOfOurTime(text: string): boolean {
  const time = Date.parse(text);
  return time >= Date.UTC(1900, 0, 1) && time < Date.UTC(2200, 0, 1);
}

/** A moment, as ISO 8601 text with zone; always UTC in answers. */
export const moment = z.iso.datetime({ offset: true, abort: true }).refine(isOfOurTime, 'a moment from 1900 to 2199').meta({ description: 'ISO 8601 date and time with zone' });
/** The largest id that the database can hold. */
const MOST = 2_147_483_647;
export const id = z.number().int().positive().max(MOST);
/** An id in a path or a query, where everything is text. */
export const idText = z.coerce.number().int().positive().max(MOST);
export const idParams = z.object({ id: idText });
export const code = z.string().trim().min(1).max(40);
export const shortText = z.string().trim().min(1).max(200);
export const longText = z.string().trim().max(8000);
export const done = z.object({ done: z.literal(true) });
/** A finite number: NaN and infinity never come in. */
export const finite = z.number();
/** yes/no in a query string. */
export const flag = z.enum(['true', 'false']).transform((value) => value === 'true');
