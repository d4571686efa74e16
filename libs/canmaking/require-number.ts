// Guards shared by all formulas. Each comparison is written so that NaN fails it.

/** Returns `value`, or throws a RangeError that names `field` when it is not a finite number. */
export function requireFinite(field: string, value: number): number {
  if (!Number.isFinite(value)) throw new RangeError(`${field} must be a finite number, got ${value}`);
  return value;
}

/** Returns `value`, or throws a RangeError that names `field` when it is not finite or below zero. */
export function requireNotNegative(field: string, value: number): number {
  requireFinite(field, value);
  if (!(value >= 0)) throw new RangeError(`${field} must be zero or more, got ${value}`);
  return value;
}

/** Returns `value`, or throws a RangeError that names `field` when it is not finite or not above zero. */
export function requirePositive(field: string, value: number): number {
  requireFinite(field, value);
  if (!(value > 0)) throw new RangeError(`${field} must be above zero, got ${value}`);
  return value;
}
