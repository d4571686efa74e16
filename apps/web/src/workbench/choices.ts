import { z } from 'zod';
import { ruleName } from '#contract/rule-names';

/** How numbers of a table become what is charted. */
export const FORMS = ['column', 'rows', 'named', 'counts', 'events'] as const;
export type Form = (typeof FORMS)[number];
export const KINDS = ['i-mr', 'xbar-r', 'xbar-s', 'between-within', 'group', 'deviation-from-nominal', 'ewma', 'cusum', 'p', 'np', 'p-prime', 'c', 'u', 'u-prime', 'g', 't'] as const;
export type Kind = (typeof KINDS)[number];

const place = z.number().int().min(0).max(100_000);
const typed = z.string().max(40).default('');

/** Everything that a person chose besides the data: kept in a shared address and in a saved study, so every part has a default. */
export const choicesShape = z.object({
  delimiter: z.enum(['tab', 'semicolon', 'comma', 'space', 'none']).optional(),
  decimal: z.enum(['.', ',']).optional(),
  header: z.boolean().optional(),
  form: z.enum(FORMS).default('column'),
  /** The column of values, counts or gaps; with `rows` those of a subgroup. Positions from 0. */
  column: place.default(0),
  columns: z.array(place).max(1000).default([]),
  size: typed.default('1'),
  /** Names the subgroup with `named`, otherwise only the point. */
  naming: place.nullable().default(null),
  /** Several products on one chart: which one, and its nominal. */
  product: place.nullable().default(null),
  nominal: place.nullable().default(null),
  /** Columns that name the levels of a hierarchy, outermost first. */
  levels: z.array(place).max(6).default([]),
  /** What the readings of one subgroup are. */
  members: z.enum(['pieces', 'positions']).default('pieces'),
  textsAsMissing: z.boolean().default(false),
  counted: z.enum(['units', 'defects']).default('units'),
  sizes: z.enum(['none', 'same', 'column']).default('none'),
  sampleSize: typed,
  sizesColumn: place.nullable().default(null),
  event: z.enum(['gaps', 'times']).default('gaps'),
  name: z.string().max(100).default(''),
  unit: z.string().max(30).default(''),
  /** A share or a grade has no capability index; its fraction outside is counted. */
  scale: z.enum(['open', 'bounded', 'ordinal']).default('open'),
  lsl: typed, target: typed, usl: typed,
  confidence: z.number().min(0.5).max(0.999).default(0.95),
  kind: z.enum(KINDS).nullable().default(null),
  rules: z.array(ruleName).max(9).default(['beyond-limits', 'two-of-three', 'four-of-five', 'eight-in-a-row']),
  patternsOnSkewed: z.boolean().default(false),
  baseline: typed,
  lambda: typed.default('0.2'), allowance: typed.default('0.5'), interval: typed.default('5'),
});
export type Choices = z.infer<typeof choicesShape>;
export const START: Choices = choicesShape.parse({});

/** All that is on the screen: what a shared address and a saved study hold. */
export const stateShape = z.object({ version: z.literal(1), text: z.string(), source: z.string().max(200).nullable().default(null), choices: choicesShape });
export type WorkbenchState = z.infer<typeof stateShape>;
