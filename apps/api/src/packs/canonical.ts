import { createHash } from 'node:crypto';

/**
 * JSON with one way to write each value, after RFC 8785: names sorted by their UTF-16 units, no space, numbers in the
 * shortest form that reads back as the same double (ECMAScript). Dates become ISO text, undefined members are left out.
 * @throws RangeError on NaN or infinity, which JSON does not have
 */
export function canonicalJson(value: unknown): string {
  if (value === null || typeof value === 'boolean' || typeof value === 'string') return JSON.stringify(value);
  if (typeof value === 'number') {
    if (!Number.isFinite(value)) throw new RangeError(`canonicalJson: needs finite numbers, ${value} given`);
    return JSON.stringify(value);
  }
  if (value instanceof Date) return JSON.stringify(value.toISOString());
  if (Array.isArray(value)) return `[${value.map((item) => canonicalJson(item ?? null)).join(',')}]`;
  if (typeof value === 'object') {
    const members = Object.entries(value).filter(([, member]) => member !== undefined).sort(([a], [b]) => (a < b ? -1 : 1));
    return `{${members.map(([name, member]) => `${JSON.stringify(name)}:${canonicalJson(member)}`).join(',')}}`;
  }
  throw new RangeError(`canonicalJson: needs values that JSON has, a ${typeof value} given`);
}

/** SHA-256 of the text as UTF-8, in hexadecimal. */
export const sha256 = (text: string): string => createHash('sha256').update(text, 'utf8').digest('hex');
