/** "22:30" of an input as minutes from midnight; null where it is empty or no time. */
export function minutesOf(text: string): number | null {
  const match = /^(\d{2}):(\d{2})$/.exec(text);
  if (!match) return null;
  const [hours, minutes] = [Number(match[1]), Number(match[2])];
  return hours < 24 && minutes < 60 ? hours * 60 + minutes : null;
}

export const timeOf = (minutes: number | undefined): string => (minutes === undefined ? '' : `${String(Math.floor(minutes / 60)).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}`);

/** Both ends, or none: half a span says nothing. */
export function spanOf(from: string, until: string): { from: number; until: number } | null {
  const [a, b] = [minutesOf(from), minutesOf(until)];
  return a === null || b === null ? null : { from: a, until: b };
}
