import fc from 'fast-check';
import { expect, it } from 'vitest';
import { type BodyReading, MinuteBook, minuteOf, rowsOf } from './minute-book.js';

const MINUTE = Date.UTC(2026, 2, 1, 8, 15);
const reading = (count: number | null, value: number, offset = 0): BodyReading => ({ streamId: 1, at: MINUTE + offset, count, value });
const rows = (book: MinuteBook, end = MINUTE + 60_000) => book.unfolded(end, 1000).flatMap(rowsOf);

it('puts each body in its place, with a hole where one did not come', () => {
  const book = new MinuteBook();
  for (const count of [12, 10, 15]) expect(book.add(reading(count, count / 10))).toBe('new');
  expect(rows(book)).toMatchObject([{ streamId: 1, minute: MINUTE, part: 0, n: 3, low: 1, high: 1.5, firstCount: 10, lastCount: 15, readings: [1, null, 1.2, null, null, 1.5] }]);
});

it('tells a repeat from a body that is there with another value, in the precision that is stored', () => {
  const book = new MinuteBook();
  book.add(reading(10, 0.1));
  expect(book.add(reading(10, 0.1))).toBe('repeated');
  expect(book.add(reading(10, Math.fround(0.1)))).toBe('repeated');
  expect(book.add(reading(10, 0.2))).toEqual({ stored: 0.1 });
});

it('begins another part where the counter begins anew, and none where a body comes late', () => {
  const book = new MinuteBook();
  for (const count of [900_000, 900_001, 0, 1, 899_999]) book.add(reading(count, 1));
  expect(rows(book).map(({ part, firstCount, lastCount }) => [part, firstCount, lastCount])).toEqual([[0, 899_999, 900_001], [1, 0, 1]]);
});

it('knows a repeat in a later minute where messages carry no time, and a new body where they do', () => {
  const book = new MinuteBook();
  book.add(reading(10, 0.1));
  const later = { ...reading(10, 0.1), at: MINUTE + 90_000 };
  expect(book.add(later, true)).toBe('repeated');
  expect(book.add(later, false)).toBe('new');
});

it('folds minutes that are over, keeps the open ones, and takes up a folded one again with what is stored', () => {
  const book = new MinuteBook();
  book.add(reading(10, 0.1));
  book.add({ ...reading(11, 0.2), at: MINUTE + 60_000 });
  const first = book.unfolded(MINUTE + 60_000, 10);
  expect(first.map(({ minute }) => minute)).toEqual([MINUTE]);
  book.folded(first);
  book.forget(MINUTE + 120_000, () => 0);
  expect(book.has(1, MINUTE)).toBe(false);
  expect(book.has(1, MINUTE + 60_000)).toBe(true);
  book.open(1, MINUTE, [{ streamId: 1, minute: MINUTE, firstCount: 10, offsets: [], readings: [0.1] }]);
  expect(book.add(reading(10, 0.1))).toBe('repeated');
  expect(book.wasStoredWith(1, MINUTE, 10, 3)).toBe(true);
  expect(book.wasStoredWith(1, MINUTE, 20, 3)).toBe(false);
  expect(book.unfolded(MINUTE + 60_000, 10)).toEqual([]);
});

it('holds the same whatever the order in which messages come, and however often', () => {
  const body = fc.record({ count: fc.option(fc.integer({ min: 0, max: 400 }), { nil: null }), offset: fc.integer({ min: 0, max: 59_999 }) });
  fc.assert(fc.property(fc.array(body, { minLength: 1, maxLength: 60 }), fc.integer(), (bodies, seed) => {
    const readings = bodies.map(({ count, offset }) => reading(count, (count ?? offset) / 8, offset));
    const shuffled = [...readings, ...readings].map((entry, place) => ({ entry, key: Math.sin(seed + place * 12.9898) })).sort((a, b) => a.key - b.key).map(({ entry }) => entry);
    const [one, other] = [new MinuteBook(), new MinuteBook()];
    for (const entry of readings) one.add(entry);
    for (const entry of shuffled) other.add(entry);
    expect(rows(other)).toEqual(rows(one));
    const places = new Set(readings.map(({ at, count }) => (count === null ? `at ${at}` : `body ${count}`)));
    expect(rows(one).reduce((sum, { n }) => sum + n, 0)).toBe(places.size);
  }));
});

it('cuts time into minutes', () => {
  expect(minuteOf(MINUTE + 59_999)).toBe(MINUTE);
  expect(minuteOf(MINUTE + 60_000)).toBe(MINUTE + 60_000);
});
