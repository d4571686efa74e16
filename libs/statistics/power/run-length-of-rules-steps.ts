import { normalCdf, normalQuantile, normalUpperTail } from '../distributions/normal.js';
import { gaussLegendre } from '../numeric/gauss-legendre.js';
import { inOrder, RUN_RULES } from '../rules/run-rules.js';
import type { RuleName } from '../rules/verdict.js';
import type { ZoneChain } from './run-length-of-rules-chain.js';
import { type Walk, zoneChances } from './run-length-of-rules-zones.js';

/** Nodes in a zone: plenty for few blocks; for many, as many as keep the digits that are promised. No set has 10,000 blocks. */
const FINE = { nodes: 12, upTo: 4000 } as const;
const COARSE_NODES = 7;

const SIGNAL = -1;

/** One memory of all rules with the zone of the last point, and the blocks that each next point leads to. */
type Block = {
  readonly zone: number;
  /** By zone of the next point; for the zone of the block itself, the point lies above the last one. */
  readonly rising: Int32Array;
  /** The same zone again, but below the last point. */
  readonly falling: number;
};

export type StepModel = { readonly chain: ZoneChain; readonly blocks: readonly Block[]; readonly first: Int32Array; readonly nodes: Float64Array; readonly weights: Float64Array };

/**
 * All memories of a set in which some rules see the step from point to point. Points in different zones are in a known
 * order; within one zone it depends on where in it the last point lay, so each block carries a density over its zone.
 */
export function stepModel(rules: readonly RuleName[], chain: ZoneChain): StepModel {
  const steps = inOrder(rules).map((name) => RUN_RULES[name]).filter(({ sees }) => sees === 'step');
  const memories: number[][] = [steps.map(({ start }) => start)];
  const numberOf = new Map([[String(memories[0]), 0]]);
  /** Memory after a step up (1) or down (-1); SIGNAL when a rule fires. */
  const follow = (memory: number, direction: number): number => {
    const reached = steps.map((rule, i) => rule.step((memories[memory] as number[])[i] as number, direction, 0));
    if (steps.some((rule, i) => rule.fired(reached[i] as number) !== null)) return SIGNAL;
    const key = String(reached);
    const known = numberOf.get(key) ?? memories.push(reached) - 1;
    numberOf.set(key, known);
    return known;
  };
  const found: { state: number; memory: number; zone: number }[] = [];
  const blockOf = new Map<string, number>();
  const enter = (state: number, memory: number, zone: number): number => {
    if (state < 0 || memory < 0) return SIGNAL;
    const key = `${state},${memory},${zone}`;
    const known = blockOf.get(key) ?? found.push({ state, memory, zone }) - 1;
    blockOf.set(key, known);
    return known;
  };
  const leads = (state: number, zone: number): number => chain.next[state * chain.zones + zone] as number;
  const first = Int32Array.from({ length: chain.zones }, (_, zone) => enter(leads(0, zone), 0, zone));
  const blocks: Block[] = [];
  for (const { state, memory, zone } of found) {
    const up = follow(memory, 1);
    const down = follow(memory, -1);
    blocks.push({
      zone,
      rising: Int32Array.from({ length: chain.zones }, (_, to) => enter(leads(state, to), to < zone ? down : up, to)),
      falling: enter(leads(state, zone), down, zone),
    });
  }
  const { nodes, weights } = gaussLegendre(blocks.length <= FINE.upTo ? FINE.nodes : COARSE_NODES);
  return { chain, blocks, first, nodes, weights: weights.map((weight) => weight / 2) };
}

/**
 * The densities point by point. They are kept as masses at the Gauss nodes of each zone, measured by probability, where
 * they are smooth whatever the shift; what lies below a node is the integral of the polynomial through the nodes
 * (collocation), so the error falls exponentially with the nodes. State 0 of the vectors is "no point yet".
 * @param shiftBefore where the mean was when the last point was taken, where that differs: the first point after a change
 */
export function walkSteps({ chain, blocks, first, nodes, weights }: StepModel, shift: number, shiftBefore = shift): Walk {
  const { length: m } = nodes;
  const chances = zoneChances(chain.edges, shift);
  const below = Array.from({ length: chain.zones }, (_, zone) => cumulative(nodes, shift === shiftBefore ? nodes : nodes.map((node) => placeBefore(chain.edges, zone, node, shift, shiftBefore))));
  const size = 1 + blocks.length * m;
  const flat = new Float64Array(blocks.length);
  const start = new Float64Array(size);
  start[0] = 1;
  const step = (from: Float64Array, to: Float64Array): number => {
    to.fill(0);
    flat.fill(0);
    let signalled = 0;
    const pass = (block: number, mass: number): void => {
      if (block < 0) signalled += mass;
      else flat[block] = (flat[block] as number) + mass;
    };
    const none = from[0] as number;
    if (none > 0) for (let zone = 0; zone < chain.zones; zone += 1) pass(first[zone] as number, none * (chances[zone] as number));
    for (let index = 0; index < blocks.length; index += 1) {
      const { zone, rising, falling } = blocks[index] as Block;
      const at = 1 + index * m;
      let mass = 0;
      for (let i = 0; i < m; i += 1) mass += from[at + i] as number;
      if (mass === 0) continue;
      for (let other = 0; other < chain.zones; other += 1) if (other !== zone) pass(rising[other] as number, mass * (chances[other] as number));
      const up = rising[zone] as number;
      const chance = chances[zone] as number;
      const integrals = below[zone] as Float64Array;
      for (let j = 0; j < m; j += 1) {
        let lower = 0;
        for (let i = 0; i < m; i += 1) lower += (integrals[j * m + i] as number) * (from[at + i] as number);
        const part = chance * (weights[j] as number);
        if (up < 0) signalled += part * lower;
        else to[1 + up * m + j] = (to[1 + up * m + j] as number) + part * lower;
        if (falling < 0) signalled += part * (mass - lower);
        else to[1 + falling * m + j] = (to[1 + falling * m + j] as number) + part * (mass - lower);
      }
    }
    for (let index = 0; index < blocks.length; index += 1) {
      const mass = flat[index] as number;
      if (mass !== 0) for (let j = 0; j < m; j += 1) to[1 + index * m + j] = (to[1 + index * m + j] as number) + mass * (weights[j] as number);
    }
    return signalled;
  };
  return { start, step };
}

/**
 * How much of the mass at node i lies below a place x of the zone (-1 its lower end, 1 its upper): the integral of the
 * Lagrange polynomial of node i over its weight, through its Legendre series (Abramowitz & Stegun 1964, 22.13.8).
 */
function cumulative(nodes: Float64Array, places: Float64Array): Float64Array {
  const m = nodes.length;
  const at = Array.from(nodes, (node) => legendre(m, node));
  return Float64Array.from({ length: places.length * m }, (_, entry) => {
    const x = places[Math.floor(entry / m)] as number;
    const series = at[entry % m] as Float64Array;
    const here = legendre(m, x);
    let sum = x + 1;
    for (let k = 1; k < m; k += 1) sum += (series[k] as number) * ((here[k + 1] as number) - (here[k - 1] as number));
    return sum / 2;
  });
}

/** P_0 to P_m at x. */
function legendre(m: number, x: number): Float64Array {
  const p = new Float64Array(m + 1);
  p[0] = 1;
  p[1] = x;
  for (let k = 2; k <= m; k += 1) p[k] = ((2 * k - 1) * x * (p[k - 1] as number) - (k - 1) * (p[k - 2] as number)) / k;
  return p;
}

/** The place in its zone, measured by probability before the change, of the point that has the place `node` after it. */
function placeBefore(edges: readonly number[], zone: number, node: number, shift: number, shiftBefore: number): number {
  const lower = edges[zone - 1] ?? Number.NEGATIVE_INFINITY;
  const upper = edges[zone] ?? Number.POSITIVE_INFINITY;
  const share = (node + 1) / 2;
  // From the tail that keeps its digits; a zone that the shift leaves no probability has no mass to be placed either.
  const mirrored = lower - shift >= 0;
  const [from, to] = mirrored ? [tail(lower - shift), tail(upper - shift)] : [cdf(lower - shift), cdf(upper - shift)];
  const p = from + share * (to - from);
  if (!(p > 0 && p < 1)) return node;
  const z = Math.min(upper, Math.max(lower, (mirrored ? -normalQuantile(p) : normalQuantile(p)) + shift));
  const old = lower - shiftBefore >= 0 ? (tail(lower - shiftBefore) - tail(z - shiftBefore)) / (tail(lower - shiftBefore) - tail(upper - shiftBefore))
    : (cdf(z - shiftBefore) - cdf(lower - shiftBefore)) / (cdf(upper - shiftBefore) - cdf(lower - shiftBefore));
  return Math.min(1, Math.max(-1, 2 * old - 1));
}

const cdf = (z: number): number => (Number.isFinite(z) ? normalCdf(z) : +(z > 0));
const tail = (z: number): number => (Number.isFinite(z) ? normalUpperTail(z) : +(z < 0));
