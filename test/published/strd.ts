import anova from './strd-anova.json' with { type: 'json' };
import univariate from './strd-univariate.json' with { type: 'json' };

type Rule = { readonly first: number; readonly low: number; readonly high: number; readonly pairs: number };

const ruled = ({ first, low, high, pairs }: Rule): number[] => [first, ...Array.from({ length: pairs }, () => [low, high]).flat()];

/** Data and certified values of the NIST Statistical Reference Datasets, univariate; `ofDoubles` is exact for the doubles that the decimals become. */
export const univariateSets = univariate.sets.map((set) => {
  const values = set.values ?? (set.rule === undefined ? Array.from(set.digits ?? '', Number) : ruled(set.rule));
  return { name: set.name, values: Object.freeze(values), certified: set.certified, ofDoubles: set.ofDoubles };
});

/** The same for the one-way analysis of variance. */
export const anovaSets = anova.sets.map((set) => {
  const groups = set.groups ?? (set.rules ?? []).map(ruled);
  return { name: set.name, labels: Object.freeze(groups.flatMap((group, i) => group.map(() => i + 1))), values: Object.freeze(groups.flat()), certified: set.certified, ofDoubles: set.ofDoubles };
});

/** What the data lose by becoming doubles, and 1e-12 besides: no program of doubles can meet a certified value more closely for certain. */
export function withinReach(certified: number, ofDoubles: number): { readonly rel: number } {
  return { rel: 1e-12 + Math.abs(ofDoubles / certified - 1) };
}
