import { it } from 'vitest';
import { agrees, agreesExactly } from '../../../test/published/agrees.js';
import { anovaSets, univariateSets, withinReach } from '../../../test/published/strd.js';
import { lagCorrelation } from './autocorrelation.js';
import { varianceComponents } from './variance-components.js';

it.each(univariateSets)('lag-1 autocorrelation of $name as certified (NIST Statistical Reference Datasets)', ({ name, values, certified, ofDoubles }) => {
  const { r } = lagCorrelation(values, 1);
  agrees({ method: 'Lag-1 autocorrelation', source: 'NIST StRD, certified values' }, r, certified.lagOne, withinReach(certified.lagOne, ofDoubles.lagOne), name);
  agrees({ method: 'Lag-1 autocorrelation', source: 'exact fractions of the NIST StRD data as doubles' }, r, ofDoubles.lagOne, { rel: 1e-12 }, name);
});

it.each(anovaSets)('one-way analysis of variance of $name as certified (NIST Statistical Reference Datasets)', ({ name, labels, values, certified, ofDoubles }) => {
  const [between, within] = varianceComponents({ names: ['treatment'], labels: [labels], values }).components;
  const method = 'Variance components, one level';
  const nist = { method, source: 'NIST StRD, certified values' };
  agreesExactly(nist, [between?.df, within?.df], certified.df, `${name}, degrees of freedom`);
  const exact = { method, source: 'exact fractions of the NIST StRD data as doubles' };
  for (const [what, got, key] of [['between', between?.ss, 'between'], ['within', within?.ss, 'within'], ['F', between?.test?.f, 'f']] as const) {
    agrees(nist, got, certified[key], withinReach(certified[key], ofDoubles[key]), `${name}, ${what}`);
    agrees(exact, got, ofDoubles[key], { rel: 1e-12 }, `${name}, ${what}`);
  }
});
