import { inOrder, RUN_RULES, WESTERN_ELECTRIC } from './run-rules.js';
import { BEYOND_TOLERANCE, type FiringSide, type RuleName } from './verdict.js';
import { compileZones } from './zone-automaton.js';
import { ZONES } from './zone-memory.js';

/** Bits of a code: what fired at the point, by rule and side. A rule that never fires on a side has 0 there. */
export const CODE: Readonly<Record<RuleName, Readonly<Record<FiringSide, number>>>> = {
  'beyond-limits': { above: 1, below: 16, both: 0 },
  'two-of-three': { above: 2, below: 32, both: 0 },
  'four-of-five': { above: 4, below: 64, both: 0 },
  'eight-in-a-row': { above: 8, below: 128, both: 0 },
  'nine-in-a-row': { above: 256, below: 512, both: 0 },
  'six-in-a-trend': { above: 1024, below: 2048, both: 0 },
  'fourteen-alternating': { above: 0, below: 0, both: 4096 },
  'fifteen-inside': { above: 0, below: 0, both: 8192 },
  'eight-outside': { above: 0, below: 0, both: 16_384 },
};

/** Code of a gap. No firing has this bit, so a gap cannot be taken for steady (0) nor for a signal. */
export const NOT_JUDGED = 32_768;

const ONE = 1 + BEYOND_TOLERANCE;
const TWO = 2 + BEYOND_TOLERANCE;
const THREE = 3 + BEYOND_TOLERANCE;

/** A whole edge in one number, so that a point costs one look into a table: the row it leads to above, the code below. */
const ROW_SHIFT = 16;
const CODE_MASK = 2 ** ROW_SHIFT - 1;
const compiled = new Map<string, Uint32Array>();

/**
 * The rules over a long series in one pass: what evaluateRules says, as bits, for replays of years of checks.
 * A NaN (or an infinity, which no frozen limits can give) is a gap: NOT_JUDGED, and all windows emptied.
 * Rules that see zones run as one automaton, compiled once for each set of rules: a point costs a zone and a look into
 * a table, whatever fires. Trend and alternation are followed beside it.
 * Equality with evaluateRules is a property test.
 * @param values z values; or plotted values, when the centre line and the sigma of the plotted statistic are given
 * @throws RangeError when centre is not finite, sigma not positive or a rule not known
 */
export function fireCodes(values: Float64Array, centre = 0, sigma = 1, rules: readonly RuleName[] = WESTERN_ELECTRIC): Uint16Array {
  if (!Number.isFinite(centre) || !(sigma > 0 && Number.isFinite(sigma))) {
    throw new RangeError(`fireCodes: needs a finite centre and a positive sigma, ${centre} and ${sigma} given`);
  }
  const unknown = rules.find((name) => !(name in RUN_RULES));
  if (unknown !== undefined) throw new RangeError(`fireCodes: needs names of rules, "${String(unknown)}" given`);
  const fired = new Uint16Array(values.length);
  judgeZones(values, centre, sigma, edgesOf(rules), fired);
  for (const name of inOrder(rules)) if (RUN_RULES[name].sees === 'step') followSteps(values, centre, sigma, name, fired);
  return fired;
}

function judgeZones(values: Float64Array, centre: number, sigma: number, edges: Uint32Array, fired: Uint16Array): void {
  let row = 0;
  for (let i = 0; i < values.length; i += 1) {
    const z = ((values[i] as number) - centre) / sigma;
    if (z - z !== 0) {
      fired[i] = NOT_JUDGED;
      row = 0;
      continue;
    }
    // zoneOf, written out: no branch to guess wrong on values that are random by nature.
    const zone =
      +(z >= -THREE) + +(z >= -TWO) + +(z >= -ONE) + +(z >= -BEYOND_TOLERANCE) +
      +(z > BEYOND_TOLERANCE) + +(z > ONE) + +(z > TWO) + +(z > THREE);
    const edge = edges[row + zone] as number;
    fired[i] = edge & CODE_MASK;
    row = edge >>> ROW_SHIFT;
  }
}

/** A rule that sees steps, over the same points; its bits are added to the codes. */
function followSteps(values: Float64Array, centre: number, sigma: number, name: RuleName, fired: Uint16Array): void {
  const rule = RUN_RULES[name];
  let state = rule.start;
  let before: number | null = null;
  for (let i = 0; i < values.length; i += 1) {
    if (fired[i] === NOT_JUDGED) {
      state = rule.start;
      before = null;
      continue;
    }
    const z = ((values[i] as number) - centre) / sigma;
    state = rule.step(state, z, before);
    before = z;
    const firing = rule.fired(state);
    if (firing !== null) fired[i] = (fired[i] as number) | CODE[name][firing.side];
  }
}

function edgesOf(rules: readonly RuleName[]): Uint32Array {
  const names = inOrder(rules).filter((name) => RUN_RULES[name].sees === 'zone');
  const key = names.join();
  const known = compiled.get(key);
  if (known) return known;
  const { next, codes, states } = compileZones(names, (rule, side) => CODE[rule][side]);
  // All seven zone rules together have fewer than 6,000 memories; were there ever too many, codes would be wrong unseen.
  if (states * ZONES > CODE_MASK) throw new RangeError(`fireCodes: needs rules with at most ${Math.floor(CODE_MASK / ZONES)} memories together, ${states} given by ${key}`);
  const edges = next.map((state, i) => (((state * ZONES) << ROW_SHIFT) | (codes[i] as number)) >>> 0);
  compiled.set(key, edges);
  return edges;
}
