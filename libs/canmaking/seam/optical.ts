import { requireNotNegative, requirePositive } from '../require-number.js';
import type { Millimetre, Percent } from '../units.js';

/**
 * Body-hook butting as it is read on a section under a scope or projector: butted length over body-hook length.
 * Source: from memory. The calculated form gives another number for the same can (`bodyHookButting`): the two are
 * different characteristics.
 * @throws RangeError naming the bad input; a butted length beyond the hook is refused.
 */
export function opticalButting(input: { buttedLength: Millimetre; bodyHook: Millimetre }): Percent {
  const bodyHook = requirePositive('bodyHook', input.bodyHook);
  const buttedLength = requireNotNegative('buttedLength', input.buttedLength);
  if (buttedLength > bodyHook) throw new RangeError(`buttedLength must not exceed bodyHook ${bodyHook}, got ${buttedLength}`);
  return (100 * buttedLength) / bodyHook;
}
