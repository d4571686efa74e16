import { z } from 'zod';

const KINDS: Readonly<Record<string, string>> = {
  string: 'text', number: 'a number', int: 'a whole number', boolean: 'true or false', array: 'a list', object: 'an object', record: 'an object', null: 'null',
};
const FORMATS: Readonly<Record<string, string>> = {
  datetime: 'a moment as ISO 8601 with its zone, such as 2026-02-03T08:30:00Z', date: 'a day as ISO 8601, such as 2026-02-03', time: 'a time of day, such as 08:30', uuid: 'a UUID', url: 'a web address', email: 'an e-mail address',
};
/** Where a moment is missing, a moment is expected and not just text. */
function kindOf({ expected, inst }: { expected: string; inst?: unknown }): string {
  const format = inst instanceof z.ZodStringFormat ? FORMATS[inst._zod.def.format] : undefined;
  return format ?? KINDS[expected] ?? expected;
}

type Bounded = { origin: string; inclusive?: boolean | undefined };

/** What a contract expects of a value that does not fit, in words; words that the contract gives itself stand before these. */
export function expectedWords(issue: z.core.$ZodRawIssue): string | undefined {
  switch (issue.code) {
    case 'invalid_type': return `${kindOf(issue)}${given(issue.input)}`;
    case 'invalid_value': return `${issue.values.length === 1 ? '' : 'one of '}${issue.values.map((value) => JSON.stringify(value)).join(', ')}${given(issue.input, true)}`;
    case 'invalid_format': return FORMATS[issue.format] ?? (issue.pattern ? `text of the form ${issue.pattern}` : `text that is a valid ${issue.format}`);
    case 'too_small': return bound(issue, issue.minimum, issue.inclusive === false ? 'more than' : 'at least');
    case 'too_big': return bound(issue, issue.maximum, issue.inclusive === false ? 'less than' : 'at most');
    case 'not_multiple_of': return `a multiple of ${issue.divisor}`;
    case 'unrecognized_keys': return `nothing named ${issue.keys.map((key) => JSON.stringify(key)).join(', ')}`;
    case 'invalid_union': return `one of the shapes that /api/docs shows${given(issue.input)}`;
    default: return undefined;
  }
}

function bound({ origin }: Bounded, size: number | bigint, than: string): string {
  if (origin === 'string') return `text of ${than} ${size} ${Number(size) === 1 ? 'character' : 'characters'}`;
  if (origin === 'array' || origin === 'set') return `a list of ${than} ${size} ${Number(size) === 1 ? 'entry' : 'entries'}`;
  return `a number of ${than} ${size}`;
}

/** Never the value itself where it may be long or secret: its kind is enough to find it. */
function given(input: unknown, sameKind = false): string {
  if (input === undefined) return '; it is missing';
  if (sameKind && typeof input === 'string') return '';
  if (typeof input === 'number' && !Number.isFinite(input)) return '';
  if (input === null) return ', not null';
  if (typeof input === 'number') return `, not the number ${input}`;
  const kind = Array.isArray(input) ? KINDS.array : KINDS[typeof input];
  return kind ? `, not ${kind}` : '';
}
