import { type Lookup, nameKey } from './names.js';
import { type Wrong, wrong } from './placed-row.js';

/** What a file calls by this text, or why nothing is. */
export function findNamed<Value>(field: string, text: string, lookup: Lookup<Value>, expected: string): { found: Value } | Wrong {
  const found = lookup.get(nameKey(text));
  if (found !== undefined && found !== null) return { found };
  return found === null ? wrong('ambiguous-name', { field, text }, `${field}: several are called "${text}": the code of one expected`) : wrong('unknown-name', { field, text }, `unknown ${field} "${text}": ${expected} expected`);
}
