import { z } from 'zod';
import { shortText } from './shapes.js';

const minute = z.number().int().min(0).max(1439);
const span = z.object({ from: minute, until: minute }).refine(({ from, until }) => from !== until, { message: 'an end that is not the beginning', path: ['until'] }).nullable();
const weekday = z.number().int().min(1, 'a day from 1 (Monday) to 7 (Sunday)').max(7, 'a day from 1 (Monday) to 7 (Sunday)');

/** When somebody is told, of a person's e-mails and of a webhook. Times of day are minutes from midnight on the plant's clock; an end before the beginning is the next day. */
export const toldHours = {
  /** Outside these hours nothing is told. Null, and no shifts: at any hour. */
  shift: span,
  /** Instead of `shift`: shifts of the plant by their names, with their hours and days as they are set up at each moment. */
  shifts: z.array(shortText).max(30, 'at most 30 shifts').transform((names) => [...new Set(names)]).default([]),
  /** In these hours nothing is sent; what comes in them waits for their end. */
  quiet: span,
  /** On other days nothing is told, ISO 8601: 1 is Monday, 7 is Sunday. Hours over midnight belong to the day on which they begin. */
  days: z.array(weekday).min(1, 'at least one day').max(7).transform((days) => [...new Set(days)].sort((a, b) => a - b)).default([1, 2, 3, 4, 5, 6, 7]),
};
export type ToldHours = z.infer<z.ZodObject<typeof toldHours>>;

/** Why a message was not sent at once: in quiet hours it waits, outside the hours or days of its receiver it is not sent. */
export const withheld = z.enum(['quiet', 'off-hours', 'off-day']);
export type Withheld = z.infer<typeof withheld>;
