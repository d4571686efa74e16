import { describe, expect, it } from 'vitest';
import { walkBackByCounts, type CountBucketWithRejects, type CountedStretch } from './cumulative-counts.js';
import { walkBack } from './transit.js';

const minute = 60_000;
const counted = (from: number, cans: readonly number[], rejected = 0): CountBucketWithRejects[] =>
  cans.map((good, index) => ({ at: (from + 5 * index) * minute, minutes: 5, good, rejected }));
const at = (minutes: number) => ({ from: minutes * minute, until: minutes * minute });
const stretch: CountedStretch = { shortestSeconds: 60, longestSeconds: 600, leastCans: null, mostCans: 1_000 };

/** A generator of its own, so that a failing line can be made again from its number. */
function randomFrom(seed: number): () => number {
  let state = seed * 2_654_435_761 % 4_294_967_296;
  return () => {
    state = (state * 1_664_525 + 1_013_904_223) % 4_294_967_296;
    return state / 4_294_967_296;
  };
}

type Can = { left: number; leftLater: number };
type Line = { cans: Can[]; earlier: CountBucketWithRejects[]; later: CountBucketWithRejects[]; stretch: CountedStretch; until: number };

/**
 * One can at a time, half a second a tick: one or two machines make cans, a conveyor takes `shortest`, a table holds what
 * waits, one machine takes them in order. All stop at random and a full stretch blocks the makers. Written down are only
 * counts in spans, from some time after the start, so that an unknown number of cans is between.
 */
function simulate(seed: number): Line {
  const random = randomFrom(seed);
  const tick = 500;
  const makers = 1 + Math.floor(2 * random());
  const [makeEvery, takeEvery] = [2 * makers, 2];
  const shortest = 20 + Math.floor(60 * random());
  const most = 2 * shortest + Math.floor(400 * random());
  const spanMinutes = [1, 5, 15][Math.floor(3 * random())] ?? 5;
  const begins = 80 * minute;
  const ends = begins + 6 * 60 * minute;
  const standing = Array.from({ length: makers + 1 }, () => 0);
  const waiting: number[] = [];
  const cans: Can[] = [];
  const makersCounts = Array.from({ length: makers }, () => new Map<number, { good: number; rejected: number }>());
  const laterCounts = new Map<number, { good: number; rejected: number }>();
  const count = (counts: Map<number, { good: number; rejected: number }>, now: number, good: boolean) => {
    const span = Math.floor((now - begins) / (spanMinutes * minute));
    const before = counts.get(span) ?? { good: 0, rejected: 0 };
    counts.set(span, good ? { ...before, good: before.good + 1 } : { ...before, rejected: before.rejected + 1 });
  };
  for (let step = 0; step * tick < ends; step += 1) {
    const now = step * tick;
    // Without a stop in the first half hour of the records every step shows its full speed once.
    if (now < begins - 45 * minute || now > begins + 30 * minute) standing.forEach((until, machine) => { if (until <= now && random() < 0.0006) standing[machine] = now + random() * random() * 40 * minute; });
    for (let machine = 0; machine < makers; machine += 1) {
      if ((standing[machine] ?? 0) > now || step % makeEvery !== machine || waiting.length >= most) continue;
      const good = random() > 0.02;
      if (now >= begins) count(makersCounts[machine] ?? new Map(), now, good);
      if (good) waiting.push(now);
    }
    const left = waiting[0];
    if ((standing[makers] ?? 0) > now || step % takeEvery !== 1 || left === undefined || now - left < shortest * 1000) continue;
    waiting.shift();
    if (now >= begins) count(laterCounts, now, random() > 0.02);
    cans.push({ left, leftLater: now });
  }
  const spans = Math.floor((ends - begins) / (spanMinutes * minute));
  const written = (counts: Map<number, { good: number; rejected: number }>): CountBucketWithRejects[] =>
    Array.from({ length: spans }, (_, span) => ({ at: begins + span * spanMinutes * minute, minutes: spanMinutes, ...(counts.get(span) ?? { good: 0, rejected: 0 }) }));
  return {
    cans, earlier: makersCounts.flatMap(written), later: written(laterCounts), until: ends,
    stretch: { shortestSeconds: shortest, longestSeconds: shortest + most, leastCans: null, mostCans: most },
  };
}

function looksFor(line: Line, seed: number): Can[] {
  const random = randomFrom(seed + 7_000);
  return Array.from({ length: 25 }, () => line.cans[Math.floor(random() * line.cans.length)]).filter((can) => can !== undefined);
}

const lines = Array.from({ length: 24 }, (_, seed) => seed);
const made = new Map<number, Line>();
const lineOf = (seed: number): Line => {
  const line = made.get(seed) ?? simulate(seed);
  made.set(seed, line);
  return line;
};

describe('against a line simulated can by can', () => {
  it.each(lines)('line %i: every can lies in the window that is told by counts', (seed) => {
    const line = lineOf(seed);
    let byCounts = 0;
    for (const can of looksFor(line, seed)) {
      const window = { from: can.leftLater - 30_000, until: can.leftLater + 15_000 };
      for (const mostCans of [line.stretch.mostCans, null]) {
        const told = walkBackByCounts(window, line.earlier, line.later, { ...line.stretch, mostCans });
        if (told.basis === 'transit') continue;
        byCounts += 1;
        expect(told.because.contradictions, JSON.stringify(told)).toBe(0);
        expect(told.from, JSON.stringify({ can, told })).toBeLessThanOrEqual(can.left);
        expect(told.until, JSON.stringify({ can, told })).toBeGreaterThanOrEqual(can.left);
      }
    }
    expect(byCounts).toBeGreaterThan(15);
  });

  it.each(lines)('line %i: so it does when counters were away', (seed) => {
    const line = lineOf(seed);
    const random = randomFrom(seed + 99);
    const away = Array.from({ length: 3 }, () => ({ from: line.until - random() * 300 * minute, minutes: 10 + 30 * random(), which: Math.floor(3 * random()) }));
    const without = (buckets: readonly CountBucketWithRejects[], step: number) => buckets.filter((bucket) =>
      !away.some(({ from, minutes, which }) => (which === 2 || which === step) && bucket.at >= from && bucket.at < from + minutes * minute));
    const [earlier, later] = [without(line.earlier, 0), without(line.later, 1)];
    let byCounts = 0;
    for (const can of looksFor(line, seed)) {
      const told = walkBackByCounts({ from: can.leftLater, until: can.leftLater }, earlier, later, line.stretch);
      if (told.basis === 'transit') continue;
      byCounts += 1;
      expect(told.from, JSON.stringify({ can, told })).toBeLessThanOrEqual(can.left);
      expect(told.until, JSON.stringify({ can, told })).toBeGreaterThanOrEqual(can.left);
    }
    expect(byCounts).toBeGreaterThan(5);
  });

  it('still holds every can when the least cans of a running stretch are given', () => {
    let told = 0;
    for (const seed of lines) {
      const line = lineOf(seed);
      // One can a second on the conveyor, less what is rejected and what a half second cuts off.
      const leastCans = Math.floor(0.9 * line.stretch.shortestSeconds);
      for (const can of looksFor(line, seed)) {
        const window = { from: can.leftLater, until: can.leftLater };
        const answer = walkBackByCounts(window, line.earlier, line.later, { ...line.stretch, shortestSeconds: 0, longestSeconds: 300, leastCans });
        if (answer.basis === 'transit') continue;
        told += 1;
        expect(answer.from, JSON.stringify({ seed, can, answer })).toBeLessThanOrEqual(can.left);
        expect(answer.until, JSON.stringify({ seed, can, answer })).toBeGreaterThanOrEqual(can.left);
      }
    }
    expect(told).toBeGreaterThan(400);
  });

  it.each(lines)('line %i: so it does round a counter that was set forward by more than fits between', (seed) => {
    const line = lineOf(seed);
    const which = seed % 2;
    const most = line.stretch.mostCans ?? 0;
    const jumped = (buckets: readonly CountBucketWithRejects[], step: number) => {
      const where = Math.floor(buckets.length * (0.3 + 0.4 * randomFrom(seed + 500)()));
      return buckets.map((bucket, index) => (step === which && index === where ? { ...bucket, good: bucket.good + 3 * most } : bucket));
    };
    const [earlier, later] = [jumped(line.earlier, 0), jumped(line.later, 1)];
    let byCounts = 0;
    for (const can of looksFor(line, seed)) {
      for (const mostCans of [most, null]) {
        const told = walkBackByCounts({ from: can.leftLater, until: can.leftLater }, earlier, later, { ...line.stretch, mostCans });
        expect(told.because.contradictions, JSON.stringify(told)).toBeGreaterThanOrEqual(1);
        if (told.basis === 'transit') continue;
        byCounts += 1;
        expect(told.from, JSON.stringify({ can, told })).toBeLessThanOrEqual(can.left);
        expect(told.until, JSON.stringify({ can, told })).toBeGreaterThanOrEqual(can.left);
      }
    }
    expect(byCounts).toBeGreaterThan(5);
  });

  it('finds cans that waited through a stop, which the times alone lose, and is narrower than the whole stretch', () => {
    let [lost, told, width, whole] = [0, 0, 0, 0];
    for (const seed of lines) {
      const line = lineOf(seed);
      for (const can of looksFor(line, seed)) {
        const window = { from: can.leftLater, until: can.leftLater };
        const answer = walkBackByCounts(window, line.earlier, line.later, line.stretch);
        if (answer.basis === 'transit') continue;
        told += 1;
        const plain = walkBack(window, [line.stretch]);
        if (can.left < plain.from) lost += 1;
        width += answer.until - answer.from;
        whole += plain.until - plain.from;
      }
    }
    expect(lost).toBeGreaterThan(20);
    expect(told).toBeGreaterThan(400);
    expect(width / whole).toBeLessThan(0.85);
  });
});

describe('worked by hand', () => {
  it('counts back 500 cans at 100 a minute: five minutes', () => {
    // The later step starts when 500 cans are between and both then make 100 a minute: no other number fits 0 to 500.
    const earlier = counted(0, [500, 500, 500, 500]);
    const later = counted(0, [0, 500, 500, 500]);
    const told = walkBackByCounts(at(12), earlier, later, { ...stretch, mostCans: 500 });
    expect(told).toMatchObject({ basis: 'counts', because: { code: 'counted', mostCans: 500, contradictions: 0 } });
    expect(told.because.cansBetween?.least).toBeLessThanOrEqual(500);
    // Full speed is taken to be a tenth above the fastest span, which leaves about half a minute each way.
    expect(told.from).toBeGreaterThan(6 * minute);
    expect(told.from).toBeLessThanOrEqual(7 * minute);
    expect(told.until).toBeGreaterThanOrEqual(7 * minute);
    expect(told.until).toBeLessThan(8 * minute);
  });

  it('takes the least cans as a bound while both steps run, and not beside a stop', () => {
    const steady = counted(0, [500, 500, 500, 500, 500, 500]);
    const whole = { shortestSeconds: 0, longestSeconds: 300, leastCans: 200, mostCans: 1_000 };
    expect(walkBackByCounts(at(25), steady, steady, whole).because.cansBetween).toEqual({ least: 200, most: 1_000 });
    expect(walkBackByCounts(at(25), steady, steady, { ...whole, leastCans: null }).because.cansBetween).toEqual({ least: 0, most: 1_000 });
    // Half of every span it stands, but for one that shows its full speed.
    const halting = counted(0, [250, 500, 250, 250, 250, 250]);
    const halted = walkBackByCounts(at(25), halting, halting, whole).because.cansBetween;
    // Two of the 750 cans since that span may have left uncounted.
    expect(halted?.least).toBe(198);
    expect(walkBackByCounts(at(25), counted(0, [250, 250, 500, 250, 250, 250]), counted(0, [250, 250, 250, 500, 250, 250]), whole).because.cansBetween?.least).toBe(0);
  });

  it('counts rejected cans of the later step, which were between as well, and leaves out those of the earlier', () => {
    const earlier = counted(0, [500, 500, 500, 500], 37);
    const all = walkBackByCounts(at(12), earlier, counted(0, [0, 500, 500, 500]), { ...stretch, mostCans: 500 });
    const some = walkBackByCounts(at(12), earlier, counted(0, [0, 400, 400, 400]).map((bucket, index) => (index > 0 ? { ...bucket, rejected: 100 } : bucket)), { ...stretch, mostCans: 500 });
    expect(some).toEqual(all);
  });

  it('adds machines side by side, whose spans need not begin together', () => {
    const [left, right] = [counted(0, [250, 250, 250, 250]), counted(2, [250, 250, 250, 250])];
    const told = walkBackByCounts(at(14), [...right, ...left], counted(0, [0, 500, 500, 500]), { ...stretch, mostCans: 600 });
    expect(told.basis).toBe('counts');
    expect(told.from).toBeLessThanOrEqual(9 * minute);
    expect(told.until).toBeGreaterThanOrEqual(9 * minute);
  });

  it('does not take a machine that has no span for one that made nothing', () => {
    const two = [...counted(0, [250, 250, 250, 250, 250, 250]), ...counted(0, [250, 250]), ...counted(20, [250, 250])];
    const told = walkBackByCounts(at(21), two, counted(0, [450, 450, 450, 450, 450, 450]), stretch);
    expect(told.because.code).toBe('counted-past-a-gap');
  });

  it('begins anew after a counter that jumped and says that counts contradict', () => {
    const earlier = counted(0, Array.from({ length: 24 }, (_, index) => (index === 12 ? 5_000 : 500)));
    const later = counted(0, Array.from({ length: 24 }, () => 500));
    const inJump = walkBackByCounts(at(63), earlier, later, stretch);
    expect(inJump).toMatchObject({ basis: 'transit', because: { code: 'counts-contradict', contradictions: 1, cansBetween: null } });
    const after = walkBackByCounts(at(110), earlier, later, stretch);
    expect(after).toMatchObject({ basis: 'counts', because: { code: 'counted', contradictions: 1 } });
    expect(after.from).toBeGreaterThanOrEqual(95 * minute);
    const past = walkBackByCounts(at(66), earlier, later, stretch);
    expect(past.because).toMatchObject({ code: 'counted-past-a-contradiction', contradictions: 1 });
    // Truth is one of 1 to 10 minutes before: the window may be wider, never narrower.
    expect(past.from).toBeLessThanOrEqual(56 * minute);
  });

  it('walks by time where counts do not reach, and says why', () => {
    const [earlier, later] = [counted(0, [500, 500, 500]), counted(0, [500, 500, 500])];
    const byTime = { from: 0, until: 9 * minute };
    expect(walkBackByCounts(at(10), [], later, stretch)).toMatchObject({ ...byTime, basis: 'transit', because: { code: 'no-counts' } });
    expect(walkBackByCounts(at(10), earlier, counted(0, [0, 0]), stretch)).toMatchObject({ ...byTime, basis: 'transit', because: { code: 'no-counts' } });
    expect(walkBackByCounts(at(40), earlier, later, stretch)).toMatchObject({ from: 30 * minute, until: 39 * minute, basis: 'transit', because: { code: 'outside-the-records' } });
    expect(walkBackByCounts(at(1), earlier, later, stretch)).toMatchObject({ basis: 'transit', because: { code: 'before-the-records' } });
    const away = later.filter((_, index) => index !== 1);
    expect(walkBackByCounts(at(7), earlier, away, stretch)).toMatchObject({ basis: 'transit', because: { code: 'later-counter-away' } });
  });

  it('sets a window by time back by what the later step stood', () => {
    const later = counted(0, [500, 500, 500, 0, 0, 0, 500]);
    const told = walkBackByCounts(at(31), counted(30, [500, 500, 500]), later, { ...stretch, longestSeconds: 300 });
    expect(told).toMatchObject({ basis: 'transit', because: { code: 'before-the-records' } });
    expect(told.from).toBeLessThanOrEqual(11 * minute);
  });

  it('refuses what is no count, naming it', () => {
    const good = counted(0, [500, 500]);
    expect(() => walkBackByCounts(at(5), [{ at: 0, minutes: 5, good: -1, rejected: 0 }], good, stretch)).toThrow(/good/);
    expect(() => walkBackByCounts(at(5), good, [{ at: 0, minutes: 5, good: 1, rejected: -3 }], stretch)).toThrow(/rejected/);
    expect(() => walkBackByCounts(at(5), good, [{ at: 0, minutes: 0, good: 1, rejected: 0 }], stretch)).toThrow(/minutes/);
    expect(() => walkBackByCounts(at(5), good, [{ at: Number.NaN, minutes: 5, good: 1, rejected: 0 }], stretch)).toThrow(/at must/);
    expect(() => walkBackByCounts({ from: 2, until: 1 }, good, good, stretch)).toThrow(/until/);
    expect(() => walkBackByCounts(at(5), good, good, { ...stretch, leastCans: 5, mostCans: 4 })).toThrow(/mostCans/);
  });
});
