const known = new WeakMap<readonly (number | null)[], string>();

/**
 * The readings as JSON, as JSON.stringify writes them. A batch needs the text three times, for the hash of what was asked,
 * the stored array and the seal, and numbers cost more to write than to judge: it is made once for an array, which nobody may
 * change from then on. Joining is several times faster, because the engine keeps the texts of numbers that come again.
 */
export function readingsText(readings: readonly (number | null)[]): string {
  let text = known.get(readings);
  if (text === undefined) {
    text = readings.includes(null) ? JSON.stringify(readings) : `[${readings.join(',')}]`;
    known.set(readings, text);
  }
  return text;
}
