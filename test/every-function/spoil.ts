/** A call with one thing spoiled: `what` says which and how. */
export type Spoiled = { readonly args: unknown[]; readonly what: string };

const NUMBERS: readonly unknown[] = [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 1e308, -1e308, 1e160, 1e-320, 0, -1, 1, 1.5, 2, 1e6, 'text', null, undefined];
const LISTS: readonly { readonly what: string; readonly of: (list: readonly unknown[]) => readonly unknown[] }[] = [
  { what: 'empty', of: () => [] },
  { what: 'first only', of: (list) => list.slice(0, 1) },
  { what: 'reversed', of: (list) => list.toReversed() },
  { what: 'all as the first', of: (list) => list.map(() => list[0]) },
  { what: 'all missing', of: (list) => list.map(() => null) },
  { what: 'ends of the number range', of: (list) => list.map((_, i) => (i % 2 === 0 ? 1e308 : -1e308)) },
  { what: 'numbers whose squares overflow', of: (list) => list.map((_, i) => 1e200 * (i + 1)) },
  { what: 'numbers whose squares vanish', of: (list) => list.map((_, i) => 1e-200 * (i + 1)) },
];

/** Every way to spoil these arguments at one place: each number, each list of numbers, and neighbours that are reversed. */
export function spoil(args: readonly unknown[]): Spoiled[] {
  return args.flatMap((arg, i) => at(arg, `argument ${i + 1}`).map(({ value, what }) => ({ args: args.with(i, value), what })));
}

type Variant = { readonly value: unknown; readonly what: string };

function at(value: unknown, where: string): Variant[] {
  if (typeof value === 'number') return NUMBERS.map((bad) => ({ value: bad, what: `${where} = ${String(bad)}` }));
  if (value instanceof Float64Array || value instanceof Int32Array) return ofNumbers(Array.from(value), where).flatMap(typed(value));
  if (Array.isArray(value)) return ofList(value, where);
  if (typeof value === 'object' && value !== null) return ofObject(value, where);
  return [];
}

function ofList(list: readonly unknown[], where: string): Variant[] {
  if (list.some((value) => typeof value === 'number')) return ofNumbers(list, where);
  const shortened = LISTS.slice(0, 3).map(({ what, of }) => ({ value: of(list), what: `${where} ${what}` }));
  return [...shortened, ...places(list).flatMap((i) => at(list[i], `${where}[${i}]`).map(({ value, what }) => ({ value: list.with(i, value), what })))];
}

function ofNumbers(list: readonly unknown[], where: string): Variant[] {
  const whole = LISTS.map(({ what, of }) => ({ value: of(list), what: `${where} ${what}` }));
  return [...whole, ...places(list).flatMap((i) => NUMBERS.map((bad) => ({ value: list.with(i, bad), what: `${where}[${i}] = ${String(bad)}` })))];
}

/** A typed array holds numbers only: what is none becomes NaN, as it would at the door. */
const typed = (like: Float64Array | Int32Array) => ({ value, what }: Variant): Variant[] => {
  const numbers = (value as unknown[]).map((one) => (typeof one === 'number' ? one : Number.NaN));
  return [{ value: like instanceof Float64Array ? Float64Array.from(numbers) : Int32Array.from(numbers), what }];
};

function ofObject(object: object, where: string): Variant[] {
  const entries = Object.entries(object);
  const one = entries.flatMap(([key, inside]) => at(inside, `${where}.${key}`).map(({ value, what }) => ({ value: { ...object, [key]: value }, what })));
  const limits = entries.filter(([, inside]) => typeof inside === 'number');
  const [first, second] = limits;
  if (first === undefined || second === undefined) return one;
  return [...one, { value: { ...object, [first[0]]: second[1], [second[0]]: first[1] }, what: `${where}: ${first[0]} and ${second[0]} exchanged` }];
}

/** First and last: what is refused or survived there is in between. */
const places = (list: readonly unknown[]): number[] => [...new Set([0, list.length - 1])].filter((i) => i >= 0);
