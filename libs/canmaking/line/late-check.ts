/** A check that is a little late is not a missed one: so many intervals after the last one it is. Common practice, no source. */
export const MISSED_AFTER_INTERVALS = 1.5;
