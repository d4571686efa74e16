/**
 * Refuses input a statistic cannot be computed from, in one place so that every refusal reads alike.
 * @param values numbers in any unit
 * @param least how many the calling statistic needs
 * @param caller name of that statistic, opens the message
 * @throws RangeError when there are too few values or one of them is NaN or infinite (1-based position is named)
 */
export function requireFinite(values: ArrayLike<number>, least: number, caller: string): void {
  const { length } = values;
  if (length < least) {
    throw new RangeError(`${caller}: needs at least ${least} ${least === 1 ? 'value' : 'values'}, ${length} given`);
  }
  for (let i = 0; i < length; i += 1) {
    if (!Number.isFinite(values[i])) {
      throw new RangeError(`${caller}: value ${i + 1} of ${length} is ${String(values[i])}, a finite number is expected`);
    }
  }
}
