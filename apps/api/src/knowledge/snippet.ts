import type { TextPart } from '#contract/knowledge';

export type Span = readonly [start: number, length: number];
const AROUND = 220;

/** The text cut into marked and unmarked parts; parts, not markup, so that no text can become code on a page. */
export function markSpans(text: string, spans: readonly Span[]): TextPart[] {
  const parts: TextPart[] = [];
  let at = 0;
  for (const [start, length] of [...spans].sort((a, b) => a[0] - b[0] || b[1] - a[1])) {
    const end = Math.min(text.length, start + length);
    const from = Math.max(at, start);
    if (end <= from) continue;
    if (from > at) parts.push({ text: text.slice(at, from), marked: false });
    parts.push({ text: text.slice(from, end), marked: true });
    at = end;
  }
  if (at < text.length) parts.push({ text: text.slice(at), marked: false });
  return parts;
}

/** About 220 characters of the text round the first place that matched, cut at spaces, with the matches marked. */
export function excerpt(text: string, spans: readonly Span[]): TextPart[] {
  if (text.length <= AROUND + 40) return markSpans(text, spans);
  const first = Math.min(...spans.map(([start]) => start), text.length);
  const wish = first === text.length ? 0 : Math.max(0, first - 60);
  const from = wish === 0 ? 0 : text.indexOf(' ', wish) + 1;
  const cut = text.lastIndexOf(' ', from + AROUND);
  const to = text.length - from <= AROUND ? text.length : cut > from ? cut : from + AROUND;
  const inside = spans.filter(([start]) => start >= from && start < to).map(([start, length]): Span => [start - from, length]);
  return [...(from > 0 ? [{ text: '… ', marked: false }] : []), ...markSpans(text.slice(from, to), inside), ...(to < text.length ? [{ text: ' …', marked: false }] : [])];
}
