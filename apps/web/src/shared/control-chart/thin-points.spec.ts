import fc from 'fast-check';
import { expect, it } from 'vitest';
import { stretchesOf, thinPoints } from './thin-points.js';

const values = fc.array(fc.option(fc.oneof(fc.double({ min: -10, max: 10, noNaN: true }), fc.integer({ min: 0, max: 3 })), { nil: null, freq: 12 }), { maxLength: 400 });
const whole = (length: number, parts: number) => [{ from: 0, to: length, parts }];
const known = (line: readonly (number | null)[]) => line.filter((value) => value !== null);

it('never hides a point that carries a signal, the lowest or the highest point of any part, an end, or a gap', () => {
  fc.assert(fc.property(values, fc.array(fc.nat(399), { maxLength: 40 }), fc.integer({ min: 1, max: 60 }), (line, flagged, parts) => {
    const kept = thinPoints(line, flagged, whole(line.length, parts));
    expect(kept).toEqual([...new Set(kept)].sort((a, b) => a - b));
    const shown = new Set(kept);
    for (const place of flagged) expect(shown.has(place)).toBe(place < line.length);
    for (let part = 0; part < parts; part += 1) {
      const [from, to] = [Math.floor((part * line.length) / parts), Math.floor(((part + 1) * line.length) / parts)];
      const [all, left] = [known(line.slice(from, to)), known(kept.filter((place) => place >= from && place < to).map((place) => line[place] as number | null))];
      expect([Math.min(...left), Math.max(...left)]).toEqual([Math.min(...all), Math.max(...all)]);
    }
    if (line.length > 0) expect([kept[0], kept.at(-1)]).toEqual([0, line.length - 1]);
    for (const [index, place] of kept.entries()) {
      const next = kept[index + 1];
      if (next !== undefined && line[place] !== null && line[next] !== null) expect(line.slice(place, next + 1)).not.toContain(null);
    }
  }), { numRuns: 300 });
});

it('leaves at most four points a part, besides signals and gaps', () => {
  const line = Array.from({ length: 17_520 }, (_, place) => Math.sin(place * 7.3));
  expect(thinPoints(line, [], whole(line.length, 1000)).length).toBeLessThanOrEqual(4000);
  expect(thinPoints(line, [3, 4, 5], whole(line.length, 1))).toEqual(expect.arrayContaining([0, 3, 4, 5, 17_519]));
});

it('shows every point of a stretch that has no more points than parts, and goes on before and behind it', () => {
  const moments = Array.from({ length: 1000 }, (_, place) => new Date(Date.UTC(2026, 0, 1) + place * 60_000).toISOString().slice(0, 19));
  const stretches = stretchesOf(moments, [moments[400] as string, moments[500] as string], 300, 4);
  expect(stretches).toEqual([{ from: 0, to: 399, parts: 4 }, { from: 399, to: 501, parts: 102 }, { from: 501, to: 1000, parts: 4 }]);
  const kept = thinPoints(moments.map((_moment, place) => place), [], stretches);
  expect(kept.filter((place) => place >= 399 && place < 501)).toHaveLength(102);
  expect([kept[0], kept.at(-1), kept.length]).toEqual([0, 999, 102 + 8 + 8]);
  expect(stretchesOf(moments, null, 300, 4)).toEqual([{ from: 0, to: 1000, parts: 300 }]);
  for (const seen of [['1999', '2000'], ['2999', '3000']] as const) expect(thinPoints(moments.map(() => 1), [], stretchesOf(moments, seen, 300, 4))[0]).toBe(0);
});

it('refuses a number of parts that is none', () => {
  expect(() => thinPoints([1], [], whole(1, 0))).toThrow('parts: needs a whole number above 0, 0 given');
});
