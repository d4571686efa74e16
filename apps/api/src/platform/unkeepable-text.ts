/** PostgreSQL keeps no U+0000 in text, and UTF-8 has no half of a surrogate pair. */
const isKeepable = (text: string): boolean => !text.includes('\u0000') && !/\p{Surrogate}/u.test(text);

/** The path of the first text or name in a parsed body that cannot be kept; null when there is none. Without recursion: bodies may be nested deeply. */
export function unkeepableText(body: unknown): string | null {
  const left: { value: unknown; path: string }[] = [{ value: body, path: '' }];
  for (let next = left.pop(); next; next = left.pop()) {
    const { value, path } = next;
    if (typeof value === 'string' && !isKeepable(value)) return path || 'body';
    if (typeof value !== 'object' || value === null) continue;
    for (const [name, inner] of Object.entries(value)) {
      if (!isKeepable(name)) return path || 'body';
      // Deep paths are of no use to a reader and would grow with the square of the depth.
      left.push({ value: inner, path: path.length > 200 ? path : path === '' ? name : `${path}.${name}` });
    }
  }
  return null;
}
