import { inOrder, RUN_RULES } from '../rules/run-rules.js';
import type { RuleName } from '../rules/verdict.js';
import { type RunLength, type RunLengthOptions, runLengthsOfWalks, type WalkAt } from './follow-walks.js';
import { zoneChain } from './run-length-of-rules-chain.js';
import { stepModel, walkSteps } from './run-length-of-rules-steps.js';
import { walkZones } from './run-length-of-rules-zones.js';

/**
 * Run length of a set of run rules on a chart of independent normal points with known limits, whose mean has moved by
 * `shift` sigma of the plotted statistic. The memories of the rules as they are shipped are the states of a Markov
 * chain that a first signal ends; the probability of surviving is added up point by point until the survivors shrink by
 * a constant factor, and the rest is a geometric series.
 * Source: Champ & Woodall 1987, Exact results for Shewhart control charts with supplementary runs rules, Technometrics
 * 29(4); Brook & Evans 1972, Biometrika 59, for the chain. `steadyStateArl` starts from the conditional steady state:
 * the limiting distribution of the memory in control given no signal so far (Crosier 1986, Technometrics 28, who names
 * it so and the cyclical one besides).
 * Accuracy: 1e-9 relative; 1e-8 for steadyStateArl of a shift where trend or alternation is among the rules.
 * @param options.survivalAt numbers of points at which the survival is wanted
 * @throws RangeError when no rule or an unknown one is named, the shift is not finite, a number of points is not whole
 * and 0 or more
 */
export function runLengthOfRules(rules: readonly RuleName[], shift: number, options: { readonly survivalAt?: readonly number[] } = {}): RunLength {
  return runLengthsOfRules(rules, [shift], options)[0] as RunLength;
}

/**
 * runLengthOfRules for several shifts: the chain is built, and followed in control, once for all.
 * @param options.progress is told the share of the shifts that is done
 * @throws RangeError as runLengthOfRules does
 */
export function runLengthsOfRules(rules: readonly RuleName[], shifts: readonly number[], options: RunLengthOptions = {}): RunLength[] {
  requireRules(rules, 'runLengthOfRules');
  return runLengthsOfWalks(walksOf(rules), shifts, options, 'runLengthOfRules');
}

export function requireRules(rules: readonly RuleName[], caller: string): void {
  const unknown = rules.find((name) => !(name in RUN_RULES));
  if (unknown !== undefined) throw new RangeError(`${caller}: needs names of rules, "${String(unknown)}" given`);
  if (rules.length === 0) throw new RangeError(`${caller}: needs at least one rule, none given`);
}

/**
 * The chain of a set of rules at each shift.
 * @param lines where the lines of the chart lie, as a share of where sigma of the points would put them
 */
export function walksOf(rules: readonly RuleName[], lines = 1): WalkAt {
  const bySteps = inOrder(rules).some((name) => RUN_RULES[name].sees === 'step');
  const drawn = zoneChain(rules, bySteps);
  const chain = { ...drawn, edges: drawn.edges.map((edge) => edge * lines) };
  if (!bySteps) return (shift) => walkZones(chain, shift);
  const model = stepModel(rules, chain);
  return (shift, before = shift) => walkSteps(model, shift, before);
}
