import { z } from 'zod';
import { endpoint } from '../endpoint.js';

/** How many numbers one request may bring, all lists of it together. */
export const MOST_VALUES = 1_000_000;
/** How long one request may be computed, in seconds. */
export const MOST_SECONDS = 30;

const expected = { error: 'a finite number is expected' };
/** A finite number; what JSON writes as 1e999 is refused. */
export const real = z.number(expected);
export const positive = z.number(expected).positive('a number above 0 is expected');
/** Strictly between 0 and 1. */
export const probability = z.number(expected).gt(0, 'a number between 0 and 1 is expected').lt(1, 'a number between 0 and 1 is expected');
export const whole = (least: number, most: number) => z.number({ error: `a whole number from ${least} to ${most} is expected` }).int(`a whole number from ${least} to ${most} is expected`).min(least, `${least} or more is expected`).max(most, `${most} or less is expected`);
export const confidence = probability.default(0.95).describe('confidence, 0 to 1');
/** A column of readings without gaps, and one in which null is a missing reading. */
export const values = z.array(real).min(1, 'at least one value is expected').max(MOST_VALUES, `at most ${MOST_VALUES} values are expected`);
export const valuesWithGaps = z.array(real.nullable()).min(1, 'at least one value is expected').max(MOST_VALUES, `at most ${MOST_VALUES} values are expected`);
/** One list of readings a subgroup, null = missing reading; the sizes may differ. */
export const subgroups = z.array(z.array(real.nullable()).max(10_000, 'at most 10,000 readings a subgroup are expected')).min(1, 'at least one subgroup is expected').max(MOST_VALUES, `at most ${MOST_VALUES} subgroups are expected`);

/** A run of a computation, named by the caller, who can then ask for its progress and stop it. */
export const runKey = z.uuid('a UUID made by the caller is expected');

/**
 * One method of the Workbench: POST /api/workbench/<name>. Stateless: nothing of what it is given is stored or logged.
 * Numbers keep the unit in which they came; probabilities and shares lie between 0 and 1; positions count from 0.
 * @param name kebab-case, the last part of the address
 * @param description method, convention and unit of each figure, for the API document
 */
export function method<Body extends z.ZodType, Answer extends z.ZodType>(name: string, definition: { summary: string; description: string; body: Body; answer: Answer }) {
  return endpoint({
    method: 'POST', path: `/api/workbench/${name}`, feature: 'workbench', access: 'public',
    query: z.object({ run: runKey.optional() }),
    problems: ['cannot-compute', 'too-large', 'takes-too-long', 'stopped', 'busy'],
    ...definition,
  });
}
