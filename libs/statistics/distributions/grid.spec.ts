import { it } from 'vitest';
import { agrees } from '../../../test/published/agrees.js';
import grid from '../../../test/published/distribution-grid.json' with { type: 'json' };
import { betaQuantile, regularisedBeta } from './beta.js';
import { binomialCdf, binomialPmf, binomialUpperTail } from './binomial.js';
import { fCdf, fQuantile, fUpperTail } from './f.js';
import { gammaCdf, gammaQuantile, regularisedGammaLower, regularisedGammaUpper } from './gamma.js';
import { hypergeometricCdf, hypergeometricPmf } from './hypergeometric.js';
import { lognormalCdf, lognormalQuantile } from './lognormal.js';
import { noncentralTCdf, noncentralTQuantile } from './noncentral-t.js';
import { normalUpperTail } from './normal.js';
import { poissonCdf, poissonPmf, poissonUpperTail } from './poisson.js';
import { digamma, trigamma } from './polygamma.js';
import { studentTCdf, studentTQuantile, studentTUpperTail } from './student-t.js';
import { weibullCdf, weibullQuantile } from './weibull.js';

const source = 'mpmath, 34 digits';
type Row2 = [number, number];
type Row3 = [number, number, number];
type Row4 = [number, number, number, number];
type Row5 = [number, number, number, number, number];
type Row6 = [number, number, number, number, number, number];

it("Student's t, both tails and quantiles", () => {
  const check = { method: "Student's t", source };
  for (const [t, nu, upper, lower] of grid.studentT as Row4[]) {
    agrees(check, studentTUpperTail(t, nu), upper, { rel: nu < 1e4 ? 1e-12 : 1e-11 }, `above ${t}, nu ${nu}`);
    agrees(check, studentTCdf(t, nu), lower, { rel: nu < 1e4 ? 1e-12 : 1e-11 }, `up to ${t}, nu ${nu}`);
  }
  for (const [p, nu, t] of grid.studentTQuantile as Row3[]) agrees(check, studentTQuantile(p, nu), t, { rel: 1e-11 }, `quantile ${p}, nu ${nu}`);
});

it('F, both tails and quantiles', () => {
  const check = { method: 'F distribution', source };
  for (const [f, nu1, nu2, lower, upper] of grid.f as Row5[]) {
    agrees(check, fCdf(f, nu1, nu2), lower, { rel: 1e-12 }, `up to ${f}, ${nu1} and ${nu2}`);
    agrees(check, fUpperTail(f, nu1, nu2), upper, { rel: 1e-12 }, `above ${f}, ${nu1} and ${nu2}`);
  }
  for (const [p, nu1, nu2, f] of grid.fQuantile as Row4[]) agrees(check, fQuantile(p, nu1, nu2), f, { rel: 1e-11 }, `quantile ${p}, ${nu1} and ${nu2}`);
});

it('noncentral t, whose reference is another formula (the series in incomplete betas)', () => {
  const check = { method: 'Noncentral t', source };
  for (const [t, nu, delta, expected] of grid.noncentralT as Row4[]) agrees(check, noncentralTCdf(t, nu, delta), expected, { abs: 1e-13 }, `up to ${t}, nu ${nu}, delta ${delta}`);
  for (const [p, nu, delta, t] of grid.noncentralTQuantile as Row4[]) agrees(check, noncentralTQuantile(p, nu, delta), t, { rel: 1e-10 }, `quantile ${p}, nu ${nu}, delta ${delta}`);
});

it('gamma, both tails and quantiles', () => {
  const check = { method: 'Gamma distribution', source };
  for (const [a, x, lower, upper] of grid.gamma as Row4[]) {
    agrees(check, regularisedGammaLower(a, x), lower, { rel: 1e-12 }, `up to ${x}, shape ${a}`);
    agrees(check, regularisedGammaUpper(a, x), upper, { rel: 1e-12 }, `above ${x}, shape ${a}`);
    agrees(check, gammaCdf(3 * x, a, 3), lower, { rel: 1e-11 }, `up to ${3 * x}, shape ${a}, scale 3`);
  }
  for (const [p, shape, scale, x] of grid.gammaQuantile as Row4[]) agrees(check, gammaQuantile(p, shape, scale), x, { rel: 1e-11 }, `quantile ${p}, shape ${shape}, scale ${scale}`);
});

it('beta, both tails and quantiles', () => {
  const check = { method: 'Beta distribution', source };
  for (const [x, a, b, lower, upper] of grid.beta as Row5[]) {
    agrees(check, regularisedBeta(x, a, b), lower, { rel: 1e-12 }, `up to ${x}, shapes ${a} and ${b}`);
    agrees(check, regularisedBeta(1 - x, b, a, x), upper, { rel: 1e-12 }, `above ${x}, shapes ${a} and ${b}`);
  }
  for (const [p, a, b, x] of grid.betaQuantile as Row4[]) agrees(check, betaQuantile(p, a, b), x, { rel: 1e-11 }, `quantile ${p}, shapes ${a} and ${b}`);
});

it('binomial terms and both sums, against sums of exact terms', () => {
  const check = { method: 'Binomial distribution', source };
  for (const [k, n, p, term, lower, upper] of grid.binomial as Row6[]) {
    agrees(check, binomialPmf(k, n, p), term, { rel: 1e-12 }, `${k} of ${n} at ${p}`);
    agrees(check, binomialCdf(k, n, p), lower, { rel: 1e-12 }, `up to ${k} of ${n} at ${p}`);
    agrees(check, binomialUpperTail(k, n, p), upper, { rel: 1e-12 }, `above ${k} of ${n} at ${p}`);
  }
});

it('hypergeometric terms and sums, against sums of exact terms', () => {
  const check = { method: 'Hypergeometric distribution', source };
  for (const [k, lot, marked, n, term, sum] of grid.hypergeometric as Row6[]) {
    agrees(check, hypergeometricPmf(k, lot, marked, n), term, { rel: 1e-11 }, `${k} of ${n}, ${marked} in ${lot}`);
    agrees(check, hypergeometricCdf(k, lot, marked, n), sum, { rel: 1e-11 }, `up to ${k} of ${n}, ${marked} in ${lot}`);
  }
});

it('Poisson terms and both sums, against sums of exact terms', () => {
  const check = { method: 'Poisson distribution', source };
  for (const [k, mean, term, lower, upper] of grid.poisson as Row5[]) {
    agrees(check, poissonPmf(k, mean), term, { rel: 1e-12 }, `${k} at ${mean}`);
    agrees(check, poissonCdf(k, mean), lower, { rel: 1e-12 }, `up to ${k} at ${mean}`);
    agrees(check, poissonUpperTail(k, mean), upper, { rel: 1e-12 }, `above ${k} at ${mean}`);
  }
});

it('Weibull and lognormal, distribution and quantiles', () => {
  const weibull = { method: 'Weibull distribution', source };
  for (const [x, shape, scale, expected] of grid.weibull as Row4[]) agrees(weibull, weibullCdf(x, shape, scale), expected, { rel: 1e-13 }, `up to ${x}, shape ${shape}, scale ${scale}`);
  for (const [p, shape, scale, x] of grid.weibullQuantile as Row4[]) agrees(weibull, weibullQuantile(p, shape, scale), x, { rel: 1e-13 }, `quantile ${p}, shape ${shape}, scale ${scale}`);
  const lognormal = { method: 'Lognormal distribution', source };
  for (const [x, mu, sigma, expected] of grid.lognormal as Row4[]) agrees(lognormal, lognormalCdf(x, mu, sigma), expected, { rel: 1e-13 }, `up to ${x}, mu ${mu}, sigma ${sigma}`);
  for (const [p, mu, sigma, x] of grid.lognormalQuantile as Row4[]) agrees(lognormal, lognormalQuantile(p, mu, sigma), x, { rel: 1e-13 }, `quantile ${p}, mu ${mu}, sigma ${sigma}`);
});

it('digamma and trigamma', () => {
  for (const [x, first, second] of grid.polygamma as Row3[]) {
    agrees({ method: 'Digamma', source }, digamma(x), first, { rel: 1e-13, abs: 1e-14 }, `at ${x}`);
    agrees({ method: 'Trigamma', source }, trigamma(x), second, { rel: 1e-13 }, `at ${x}`);
  }
});

it('the normal tail keeps twelve digits as far as normal numbers reach', () => {
  for (const [z, expected] of grid.normalFarTail as Row2[]) agrees({ method: 'Normal tail', source }, normalUpperTail(z), expected, { rel: 1e-12 }, `above ${z}`);
});

it('the printed tables of critical values', () => {
  const t = { method: "Student's t", source: 'NIST/SEMATECH e-Handbook 1.3.6.7.2 (from memory)' };
  for (const [p, nu, printed] of [[0.9, 1, 3.078], [0.95, 4, 2.132], [0.975, 10, 2.228], [0.99, 20, 2.528], [0.995, 30, 2.75], [0.975, 100, 1.984]] as const) agrees(t, studentTQuantile(p, nu), printed, { abs: 5e-4 }, `${p} of ${nu}`);
  const f = { method: 'F distribution', source: 'NIST/SEMATECH e-Handbook 1.3.6.7.3 (from memory)' };
  for (const [p, nu1, nu2, printed] of [[0.95, 1, 10, 4.965], [0.95, 3, 10, 3.708], [0.95, 5, 5, 5.05], [0.95, 10, 20, 2.348], [0.99, 3, 10, 6.552], [0.99, 2, 20, 5.849]] as const) agrees(f, fQuantile(p, nu1, nu2), printed, { abs: 6e-4 }, `${p} of ${nu1} and ${nu2}`);
});
