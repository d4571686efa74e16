/** The one place that asks what time it is; tests hand in a fixed one. */
export type Clock = { now(): Date };
export const systemClock: Clock = { now: () => new Date() };
export const CLOCK = Symbol('CLOCK');
