import { subgroupPass } from '../charts/batch.js';
import { chartConstants } from '../charts/constants.js';
import { varies } from '../charts/limits-basis.js';
import { mean as meanOf } from '../numeric/mean.js';
import { overallSd } from './capability.js';
import { type Capability, capabilityFigures, requireSpecification, type Specification } from './figures.js';
import { withinFreedom } from './within-freedom.js';

/**
 * What capability() gives for kind 'xbar-r', for millions of readings in equal subgroups one behind the other, without an
 * object a subgroup.
 * @param values readings of subgroup 1, then of subgroup 2, and so on, none missing
 * @param size readings a subgroup, 2 to what chartConstants allows
 * @throws RangeError as capability(), and when the array is not whole subgroups
 */
export function capabilityOfArray(values: Float64Array, size: number, specification: Specification, confidence = 0.95): Capability {
  requireSpecification(specification, confidence);
  const { means, rbar } = subgroupPass(values, size);
  const mean = meanOf(values);
  const sigma = rbar / chartConstants(size).d2;
  const known = means.length >= 2 && varies(sigma, mean);
  // Equal subgroups: the effective degrees of freedom need their number only, one entry each.
  const within = known
    ? { sigma, nu: withinFreedom('xbar-r', new Array<number>(means.length).fill(size)), gap: null }
    : { sigma: null, nu: null, gap: means.length < 2 ? 'too-few-subgroups' as const : 'no-variation' as const };
  return capabilityFigures({ n: values.length, subgroups: means.length, mean, sdOverall: overallSd(values, mean), within }, specification, confidence);
}
