import { expect, it } from 'vitest';
import { z } from 'zod';
import { sentCheck } from '#contract/inspections';
import { readConfig } from './config.js';
import { parseInput } from './field-errors.js';

const shape = z.object({
  key: z.string().min(8).max(100), one: z.string().min(1), at: z.iso.datetime({ offset: true }), n: z.number().int().positive().max(5), list: z.array(z.number()).min(1).max(3),
  scope: z.enum(['checks', 'counts']), own: z.number().min(1, 'at least 1 request a minute'), flag: z.boolean(), link: z.url(), like: z.string().regex(/^a+$/), step: z.number().multipleOf(5),
}).strict();
const fits = { key: 'abcdefgh', one: 'x', at: '2026-01-01T00:00:00Z', n: 1, list: [1], scope: 'checks', own: 1, flag: true, link: 'https://a.example', like: 'a', step: 5 };
const said = (more: object) => parseInput(shape, { ...fits, ...more }).errors?.map(({ field, expected }) => `${field}: ${expected}`);

it.each([
  [{ key: 'abc' }, 'key: text of at least 8 characters'],
  [{ one: '' }, 'one: text of at least 1 character'],
  [{ key: 7 }, 'key: text, not the number 7'],
  [{ key: undefined }, 'key: text; it is missing'],
  [{ at: '2026-01-01' }, 'at: a moment as ISO 8601 with its zone, such as 2026-02-03T08:30:00Z'],
  [{ n: 1.5 }, 'n: a whole number, not the number 1.5'],
  [{ n: 0 }, 'n: a number of more than 0'],
  [{ n: 6 }, 'n: a number of at most 5'],
  [{ n: null }, 'n: a number, not null'],
  [{ n: Number.NaN }, 'n: a number'],
  [{ list: [] }, 'list: a list of at least 1 entry'],
  [{ list: [1, 2, 3, 4] }, 'list: a list of at most 3 entries'],
  [{ list: ['0.41'] }, 'list.0: a number, not text'],
  [{ list: {} }, 'list: a list, not an object'],
  [{ scope: 'events' }, 'scope: one of "checks", "counts"'],
  [{ scope: undefined }, 'scope: one of "checks", "counts"; it is missing'],
  [{ own: 0 }, 'own: at least 1 request a minute'],
  [{ flag: 'yes' }, 'flag: true or false, not text'],
  [{ link: 'there' }, 'link: a web address'],
  [{ like: 'b' }, 'like: text of the form /^a+$/'],
  [{ step: 7 }, 'step: a multiple of 5'],
  [{ more: 1 }, 'body: nothing named "more"'],
])('says of %j what is expected: %s', (more, words) => {
  expect(said(more)).toEqual([words]);
});

it('names what a gauge left out of a check', () => {
  expect(parseInput(sentCheck, { key: 'weld-gauge-7', machine: 'BM1', product: 'T65', cans: [{ number: 1 }], positions: ['front'], characteristics: [] }).errors)
    .toEqual([{ field: 'takenAt', expected: 'a moment as ISO 8601 with its zone, such as 2026-02-03T08:30:00Z; it is missing' }]);
  expect(parseInput(sentCheck, 7).errors).toEqual([{ field: 'body', expected: 'an object, not the number 7' }]);
});

it('says the same of the environment', () => {
  expect(() => readConfig({ PORT: 'many' })).toThrow('environment variable PORT: must be a number');
  expect(() => readConfig({ SEED: 'some' })).toThrow('environment variable SEED: must be one of "demo", "none"');
});
