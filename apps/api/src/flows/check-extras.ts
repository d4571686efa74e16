import type { NewCheck } from '#contract/inspections';
import type { FieldError } from '#contract/problem';
import type { NewCount, NewRating } from '../inspections/check-extras.store.js';
import type { MasterData } from './master-data.js';

/** Clocks of a tablet and the server may differ by so much, gauges and people disagree about the minute; more than this into the future is a wrong clock or a wrong date. */
const CLOCK_SLACK_MS = 5 * 60_000;

/** What is wrong with counts, ratings, skips, second readings and device times of one check; each error names its field. */
export function extraErrors(check: NewCheck, { characteristics }: MasterData, now: Date): FieldError[] {
  const { counts = [], ratings = [], skips = [], secondReadings = [] } = check;
  // The usual check, which is of readings alone.
  if (counts.length + ratings.length + skips.length + secondReadings.length === 0) return deviceTimes(check, now);
  const wanted = check.cans.length * check.positions.length;
  const ofKind = (code: string, kind: string, field: string): FieldError[] => {
    const known = characteristics.get(code);
    if (!known) return [{ field, expected: `a characteristic of this plant, not "${code}"` }];
    return known.kind === kind ? [] : [{ field, expected: `a characteristic of kind "${kind}": ${code} is of kind "${known.kind}"` }];
  };
  const twice = (codes: readonly string[], index: number, field: string): FieldError[] => (codes.indexOf(codes[index] ?? '') < index ? [{ field, expected: `each characteristic once: ${codes[index]} is there twice` }] : []);
  const place = ({ can, position }: { can: number | null; position: number | null }, field: string): FieldError[] => [
    ...(can !== null && can >= check.cans.length ? [{ field: `${field}.can`, expected: `the index of a can, 0 to ${check.cans.length - 1}` }] : []),
    ...(position !== null && position >= check.positions.length ? [{ field: `${field}.position`, expected: `the index of a position, 0 to ${check.positions.length - 1}` }] : []),
  ];
  const all = new Set([...check.characteristics, ...ratings].map((entry) => entry.code));
  const asked = (code: string, field: string): FieldError[] => (characteristics.has(code) ? [] : [{ field, expected: `a characteristic of this plant, not "${code}"` }]);
  return [
    ...counts.flatMap((entry, index) => [
      ...ofKind(entry.code, 'attribute', `counts.${index}.code`), ...twice(counts.map(({ code }) => code), index, `counts.${index}.code`),
      ...(entry.nonconforming > entry.inspected ? [{ field: `counts.${index}.nonconforming`, expected: `at most as many as were inspected, ${entry.inspected}` }] : []),
    ]),
    ...ratings.flatMap((entry, index) => [
      ...ofKind(entry.code, 'rating', `ratings.${index}.code`), ...twice(ratings.map(({ code }) => code), index, `ratings.${index}.code`),
      ...(entry.ratings.length === wanted ? [] : [{ field: `ratings.${index}.ratings`, expected: `${check.cans.length} cans by ${check.positions.length} positions = ${wanted} ratings (null where one is missing), not ${entry.ratings.length}` }]),
      ...entry.ratings.flatMap((rating, at) => outsideScale(rating, characteristics.get(entry.code), `ratings.${index}.ratings.${at}`)),
    ]),
    ...skips.flatMap((skip, index) => [
      ...place(skip, `skips.${index}`), ...(skip.characteristic === null ? [] : asked(skip.characteristic, `skips.${index}.characteristic`)),
      ...(skip.can === null && skip.characteristic === null ? [{ field: `skips.${index}`, expected: 'a can, a characteristic or both' }] : []),
    ]),
    ...secondReadings.flatMap((second, index) => [...place(second, `secondReadings.${index}`), ...(all.has(second.characteristic) ? [] : [{ field: `secondReadings.${index}.characteristic`, expected: `a characteristic that this check measured, not "${second.characteristic}"` }])]),
    ...deviceTimes(check, now),
  ];
}

function outsideScale(rating: number | null, scale: { plausibleLow: number | null; plausibleHigh: number | null } | undefined, field: string): FieldError[] {
  const [low, high] = [scale?.plausibleLow ?? 0, scale?.plausibleHigh ?? 1000];
  return rating === null || (rating >= low && rating <= high) ? [] : [{ field, expected: `a rating from ${low} to ${high}, not ${rating}` }];
}

export function futureErrors(at: string | undefined, field: string, now: Date): FieldError[] {
  return at !== undefined && new Date(at).getTime() > now.getTime() + CLOCK_SLACK_MS ? [{ field, expected: `a moment not in the future (it is ${now.toISOString()} now)` }] : [];
}

function deviceTimes({ begunAt, finishedAt }: NewCheck, now: Date): FieldError[] {
  return [
    ...futureErrors(begunAt, 'begunAt', now), ...futureErrors(finishedAt, 'finishedAt', now),
    ...(begunAt !== undefined && finishedAt !== undefined && new Date(begunAt) > new Date(finishedAt) ? [{ field: 'finishedAt', expected: `a moment not before begunAt, ${begunAt}` }] : []),
  ];
}

/** Rows of the counts and ratings of stored checks, with the ids that the codes stand for. */
export function countsAndRatings(fresh: readonly { check: NewCheck; id: number }[], { characteristics }: MasterData): { counts: NewCount[]; ratings: NewRating[] } {
  const idOf = (code: string) => characteristics.get(code)?.id ?? 0;
  return {
    counts: fresh.flatMap(({ check, id }) => (check.counts ?? []).map(({ code, inspected, nonconforming }) => ({ checkId: id, characteristicId: idOf(code), inspected, nonconforming }))),
    ratings: fresh.flatMap(({ check, id }) => (check.ratings ?? []).flatMap(({ code, ratings }) => ratings.flatMap((rating, at) => (rating === null ? [] : [{
      checkId: id, characteristicId: idOf(code), can: Math.floor(at / check.positions.length), position: at % check.positions.length, rating,
    }])))),
  };
}
