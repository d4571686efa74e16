import { z } from 'zod';
import { endpoint } from './endpoint.js';
import { readers } from './roles.js';
import { finite, id, idText, moment } from './shapes.js';

/** The longest span of one request, in days. */
export const MOST_BODY_DAYS = 31;
const asked = z.object({ machine: idText, characteristic: idText, product: idText.optional(), unit: idText.optional(), lane: idText.optional(), from: moment, to: moment });
const inBounds = <Shape extends z.ZodType<{ from: string; to: string }>>(shape: Shape) => shape
  .refine(({ from, to }) => new Date(from) < new Date(to), { path: ['to'], message: 'a moment after the beginning' })
  .refine(({ from, to }) => new Date(to).getTime() - new Date(from).getTime() <= MOST_BODY_DAYS * 86_400_000, { path: ['to'], message: `at most ${MOST_BODY_DAYS} days after the beginning` });

/**
 * The readings of one stream in one minute. With a body counter `readings[i]` is of body `first + i`, and null a body that
 * did not come; the time of each is known to the minute. Without one, `offsets` are milliseconds from the minute's beginning.
 */
const bodyMinute = z.object({
  streamId: id, product: z.string(), unit: z.string().nullable(), lane: z.string().nullable(), minute: moment,
  first: z.number().nullable(), offsets: z.array(z.number().int()), readings: z.array(finite.nullable()),
});
export type BodyMinute = z.infer<typeof bodyMinute>;

export const listBodies = endpoint({
  method: 'GET', path: '/api/every-body', feature: 'monitors', access: readers,
  summary: 'Every-body readings of a machine and characteristic, minute by minute',
  description: `Oldest first, in pages: \`next\` is the \`after\` of the page behind this one, null at the end. The minute under way is not there yet. At most ${MOST_BODY_DAYS} days. What the plant keeps no longer is left out, except what a signal, an incident or a legal hold kept.`,
  query: inBounds(asked.extend({ after: z.string().regex(/^\d{1,15}\.\d{1,10}\.\d{1,5}$/, 'what `next` of the page before said').optional(), take: z.coerce.number().int().min(1).max(500).default(100) })),
  answer: z.object({ machine: z.string(), characteristic: z.string(), measure: z.string(), minutes: z.array(bodyMinute), next: z.string().nullable() }).meta({ id: 'EveryBody' }), problems: ['not-found'],
});
export const getBodiesCsv = endpoint({
  method: 'GET', path: '/api/every-body.csv', feature: 'monitors', access: readers,
  summary: 'The same as a CSV file, one body a line', description: 'Columns: minute (UTC), milliseconds of the minute where they are known, body counter, value, unit of measure, machine, characteristic, product, unit, lane. UTF-8.',
  query: inBounds(asked), answer: z.string(), answerType: 'text/csv', problems: ['not-found'],
});
