import type { BatchAnswer, BatchResult } from '#contract/feeds';
import { type NewCheck, sentCheck } from '#contract/inspections';
import { Problem, problemBody } from '#contract/problem';
import type { Acting } from '../platform/endpoint.js';
import { parseInput } from '../platform/field-errors.js';
import { asProblem } from '../platform/problem.filter.js';
import { refuseMachines } from '../platform/refuse-machines.js';
import { retryContention } from '../platform/retry-contention.js';
import type { Work } from '../platform/work.js';
import { recordReadings } from './record-readings.js';
import { type Codes, loadCodes, resolveCodes } from './resolve-codes.js';

/** Enough that the rules run once a stream and group, few enough that one refused check costs little. */
const CHECKS_AT_ONCE = 50;
type Placed = { row: number; check: NewCheck };

/**
 * Stores each check of a batch or refuses it by itself: what is good is stored whatever stands beside it. Checks share
 * transactions, and a group in which one is refused is halved until that one stands alone, so each is stored as if it had come alone.
 */
export async function recordBatch(work: Work, acting: Acting, sent: readonly unknown[], now: Date): Promise<BatchAnswer> {
  const codes = await loadCodes(work.read, acting.plantId);
  const results: BatchResult[] = [];
  const good: Placed[] = [];
  sent.forEach((item, index) => {
    const row = index + 1;
    try {
      good.push({ row, check: readOne(item, codes, acting) });
    } catch (error) {
      results.push(refused(row, keyOf(item), error));
    }
  });
  for (let first = 0; first < good.length; first += CHECKS_AT_ONCE) {
    const group = good.slice(first, first + CHECKS_AT_ONCE);
    try {
      results.push(...(await storeGroup(work, acting, group, now)));
    } catch (error) {
      // Earlier groups are stored for good: saying "nothing was stored" would be wrong, so every check left gets its own answer.
      const problem = asProblem(error);
      const left = new Problem(problem.code, 'This check was not stored: send it again with the same key.');
      results.push(...good.slice(first).map(({ row, check }) => refused(row, check.key, left)));
      break;
    }
  }
  results.sort((a, b) => a.row - b.row);
  const count = (outcome: BatchResult['outcome']) => results.filter((result) => result.outcome === outcome).length;
  return { stored: count('stored'), repeated: count('repeated'), refused: count('refused'), results };
}

function readOne(item: unknown, codes: Codes, acting: Acting): NewCheck {
  const { data, errors } = parseInput(sentCheck, item);
  if (errors) throw new Problem('invalid-input', undefined, errors);
  const check = resolveCodes(data, codes);
  refuseMachines(acting, [{ machineId: check.machineId, field: 'machine' }]);
  return check;
}

async function storeGroup(work: Work, acting: Acting, group: readonly Placed[], now: Date): Promise<BatchResult[]> {
  try {
    const recorded = await retryContention(() => work.run((tx) => recordReadings(tx, acting.actor, group.map(({ check }) => check), { now, source: acting.source }), 60_000));
    return group.map(({ row, check }, index) => ({ row, key: check.key, outcome: recorded.repeated[index] ? 'repeated' : 'stored', checkId: recorded.checkIds[index] ?? null, problem: null }));
  } catch (error) {
    if (!(error instanceof Problem)) throw error;
    const [only] = group;
    if (group.length === 1 && only) return [refused(only.row, only.check.key, error)];
    const middle = Math.ceil(group.length / 2);
    return [...(await storeGroup(work, acting, group.slice(0, middle), now)), ...(await storeGroup(work, acting, group.slice(middle), now))];
  }
}

function refused(row: number, key: string | null, error: unknown): BatchResult {
  const problem = asProblem(error);
  return { row, key, outcome: 'refused', checkId: null, problem: problemBody(new Problem(problem.code, problem.detail, problem.errors?.map((entry) => ({ ...entry, row })))) };
}

function keyOf(item: unknown): string | null {
  const key = typeof item === 'object' && item !== null && 'key' in item ? item.key : null;
  return typeof key === 'string' ? key.slice(0, 120) : null;
}
