/** How many numbers and gaps a request brings, whatever lists they are in. Walks without recursion: a body may be nested thousands deep. */
export function countNumbers(input: unknown): number {
  let count = 0;
  const waiting: unknown[] = [input];
  while (waiting.length > 0) {
    const next = waiting.pop();
    if (Array.isArray(next)) {
      for (const item of next as unknown[]) {
        if (typeof item === 'object' && item !== null) waiting.push(item);
        // The names of a few rules are no numbers; a long list of names costs as much as one of numbers.
        else if (typeof item !== 'string' || next.length > 100) count += 1;
      }
    } else if (typeof next === 'object' && next !== null) {
      for (const item of Object.values(next)) if (typeof item === 'object' && item !== null) waiting.push(item);
    }
  }
  return count;
}
