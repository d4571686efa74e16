import { it } from 'vitest';
import { agrees } from '../../../test/published/agrees.js';
import { univariateSets, withinReach } from '../../../test/published/strd.js';
import { mean } from './mean.js';
import { standardDeviation } from './standard-deviation.js';

it.each(univariateSets)('mean and standard deviation of $name as certified (NIST Statistical Reference Datasets)', ({ name, values, certified, ofDoubles }) => {
  const source = 'NIST StRD, certified values';
  agrees({ method: 'Mean', source }, mean(values), certified.mean, withinReach(certified.mean, ofDoubles.mean), name);
  agrees({ method: 'Standard deviation', source }, standardDeviation(values), certified.sd, withinReach(certified.sd, ofDoubles.sd), name);
});

it.each(univariateSets)('mean and standard deviation of $name, exact for its doubles', ({ name, values, ofDoubles }) => {
  const source = 'exact fractions of the NIST StRD data as doubles';
  agrees({ method: 'Mean', source }, mean(values), ofDoubles.mean, { rel: 4e-16 }, name);
  agrees({ method: 'Standard deviation', source }, standardDeviation(values), ofDoubles.sd, { rel: 1e-14 }, name);
});
