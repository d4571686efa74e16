import { z } from 'zod';
import { code, finite } from './shapes.js';

// What a check can hold beside its readings. All of it is optional, so that a sender who knows only readings stays right.

const can = z.number().int().min(0).max(199);
const position = z.number().int().min(0).max(23);
export const skipReason = z.string().trim().min(3, 'a reason of at least 3 characters').max(500, 'a reason of at most 500 characters');

/** Left out on purpose: a whole can, a whole characteristic, or one cell. `can` and `position` are indexes from 0; null means all of them. */
export const checkSkip = z.object({ can: can.nullable().default(null), characteristic: code.nullable().default(null), position: position.nullable().default(null), reason: skipReason });
export type CheckSkip = z.infer<typeof checkSkip>;

/** A second measurement of one cell, kept beside the first one, which stays the reading that is judged. Unit: the characteristic's. */
export const secondReading = z.object({ characteristic: code, can, position, value: finite.min(-1e9).max(1e9) });
export type SecondReading = z.infer<typeof secondReading>;

/** How many were looked at, and how many of them were not as they should be. The characteristic is of kind "attribute". */
export const attributeCount = z.object({
  code, inspected: z.number().int('a whole number').min(1, '1 or more').max(1_000_000), nonconforming: z.number().int('a whole number').min(0, '0 or more').max(1_000_000),
});
export type AttributeCount = z.infer<typeof attributeCount>;

/** Ordinal ratings can by can, position by position; null is one not rated. The characteristic is of kind "rating"; they are kept as rated and not averaged. */
export const ratingGrid = z.object({ code, ratings: z.array(z.number().int('a whole number').min(0).max(1000).nullable()).max(5000) });
export type RatingGrid = z.infer<typeof ratingGrid>;
