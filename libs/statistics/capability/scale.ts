/**
 * What a characteristic is measured on: 'open' a length, a force, a pressure; 'bounded' a percentage or another share
 * with an end that is reached (tightness, overlap, body hook butting); 'ordinal' a grade.
 */
export type Scale = 'open' | 'bounded' | 'ordinal';

/**
 * Refuses an index where none has a meaning: a share piles up at its end, a grade has no distances, and three standard
 * deviations of either say nothing about the units outside. The figure to give is fractionNonconforming.
 * Source: common practice, no source.
 * @throws RangeError when the scale is not open
 */
export function refuseClosedScale(scale: Scale, caller: string): void {
  if (scale === 'open') return;
  const which = scale === 'bounded' ? 'a bounded one (a share or percentage)' : 'an ordinal one (a grade)';
  throw new RangeError(`${caller}: needs a characteristic on an open scale, ${which} given; count its units outside the specification instead`);
}
