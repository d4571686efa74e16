import { describe, expect, it } from 'vitest';
import { placeInWindow, USUAL_NEAR_EDGE } from './tested-window.js';

// Invented windows, worked by hand.
const window = { lower: 3150, upper: 3470, nearEdge: USUAL_NEAR_EDGE };

describe('a setting in its tested window', () => {
  it.each([
    [3320, 53.125, 'inside'], [3150, 0, 'near-lower'], [3213, 19.6875, 'near-lower'], [3214, 20, 'inside'], [3406, 80, 'inside'], [3407, 80.3125, 'near-upper'], [3470, 100, 'near-upper'], [3149, -0.3125, 'below'], [3500, 109.375, 'above'],
  ] as const)('places %d A at %d percent: %s', (value, percent, zone) => {
    expect(placeInWindow(value, window)).toEqual({ percent: expect.closeTo(percent, 9), zone, toLower: value - 3150, toUpper: 3470 - value });
  });

  it('sees less left below when the cold edge rises and the setting stays', () => {
    const place = placeInWindow(3320, { ...window, lower: 3230 });
    expect(place.percent).toBeCloseTo(37.5, 9);
    expect(place.toLower).toBe(90);
  });

  it('names the nearer edge where both are near, and tells no edge with a margin of nothing', () => {
    expect([3310, 3311].map((value) => placeInWindow(value, { ...window, nearEdge: 50 }).zone)).toEqual(['inside', 'near-upper']);
    expect(placeInWindow(3150, { ...window, nearEdge: 0 }).zone).toBe('inside');
  });

  it('refuses what is no window', () => {
    expect(() => placeInWindow(3300, { ...window, upper: 3150 })).toThrow(/splashEdge/);
    expect(() => placeInWindow(3300, { ...window, nearEdge: 60 })).toThrow(/nearEdge/);
    expect(() => placeInWindow(Number.NaN, window)).toThrow(/current/);
  });
});
