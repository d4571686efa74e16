/** A tablet: its pointer is a finger. */
export const byTouch = (): boolean => window.matchMedia('(pointer: coarse)').matches;
