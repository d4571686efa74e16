import type { TextPart } from '#contract/knowledge';

/** Text with the matches marked; parts come from the server as text and are drawn as text. */
export function MarkedText({ parts }: { parts: readonly TextPart[] }) {
  return <>{parts.map((part, place) => {
    const key = `${place}/${part.text}`;
    return part.marked ? <mark key={key}>{part.text}</mark> : <span key={key}>{part.text}</span>;
  })}</>;
}
