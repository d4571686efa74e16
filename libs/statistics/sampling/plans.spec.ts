import fc from 'fast-check';
import { expect, it } from 'vitest';
import { agrees, agreesExactly } from '../../../test/published/agrees.js';
import published from '../../../test/published/sampling.json' with { type: 'json' };
import { expectWithin } from '../../../test/published/within.js';
import { binomialCdf } from '../distributions/binomial.js';
import { poissonCdf } from '../distributions/poisson.js';
import { doublePlan } from './double-plan.js';
import { findPlan } from './find-plan.js';
import type { CountModel } from './origin.js';
import { type SinglePlan, shareAccepted, singlePlan } from './single-plan.js';

const scipy = 'SciPy 1.17, terms summed';
const rel = { rel: 1e-10, abs: 1e-15 };

it('the single plan n 52, c 3 of the e-Handbook', () => {
  const { points, outgoingLimit } = singlePlan({ n: 52, c: 3, lot: 10_000, model: 'binomial' }, [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12].map((percent) => percent / 100));
  // The table of the handbook is quoted from memory and was recomputed with SciPy: these are the recomputed four decimals.
  const accept = [0.9982, 0.9798, 0.9295, 0.846, 0.7383, 0.6196, 0.5018, 0.3938, 0.3003, 0.2232, 0.1621, 0.1152];
  for (const [i, point] of points.entries()) agrees({ method: 'Single sampling plan', source: 'NIST e-Handbook 6.2.3.2, n 52, c 3' }, point.accept, accept[i] as number, { abs: 5.1e-5 }, `accept ${point.share}`);
  agrees({ method: 'Single sampling plan', source: 'NIST e-Handbook 6.2.3.2, n 52, c 3' }, outgoingLimit.share, 0.03719, { abs: 5.1e-6 }, 'AOQL');
  agrees({ method: 'Single sampling plan', source: 'NIST e-Handbook 6.2.3.2, n 52, c 3' }, outgoingLimit.incoming, 0.0559, { abs: 5.1e-5 }, 'AOQL at');
});

it.each(published.singles)('single plan $model n $n, c $c, lot $lot', ({ model, n, c, lot, points, worst }) => {
  const check = { method: 'Single sampling plan', source: scipy };
  const got = singlePlan({ n, c, lot, model: model as CountModel }, points.map(([share]) => share as number));
  points.forEach(([share, accept, outgoing], i) => {
    agrees(check, got.points[i]?.accept, accept as number, rel, `accept ${share}`);
    agrees(check, got.points[i]?.outgoing, outgoing as number, rel, `outgoing ${share}`);
  });
  agrees(check, got.outgoingLimit.share, worst[0] as number, { rel: 1e-7 }, 'AOQL');
  agrees(check, got.outgoingLimit.incoming, worst[1] as number, { rel: 1e-5 }, 'AOQL at');
});

it('np at 0.95 and 0.10, as Cameron 1952 tabulates them for the Poisson (quoted from memory, recomputed by SciPy chi2)', () => {
  const table = [[0.052, Math.LN10], [0.355, 3.89], [0.818, 5.322], [1.366, 6.681], [1.97, 7.994], [2.613, 9.275], [3.286, 10.532]] as const;
  table.forEach(([good, bad], c) => {
    const plan: SinglePlan = { n: 100, c, lot: null, model: 'poisson' };
    agrees({ method: 'Single sampling plan', source: 'Cameron 1952, Industrial Quality Control 9' }, 100 * shareAccepted(plan, 0.95), good, { abs: 1.1e-3 }, `c ${c}, 0.95`);
    agrees({ method: 'Single sampling plan', source: 'Cameron 1952, Industrial Quality Control 9' }, 100 * shareAccepted(plan, 0.1), bad, { abs: 1.1e-3 }, `c ${c}, 0.10`);
  });
});

it('y = n AOQL of Dodge & Romig, table of x and y (quoted from memory, recomputed by SciPy)', () => {
  [0.3679, 0.84, 1.3711, 1.9424, 2.5435, 3.1682].forEach((y, c) => {
    agrees({ method: 'Single sampling plan', source: 'Dodge & Romig 1959, factors of AOQL' }, 1000 * singlePlan({ n: 1000, c, lot: null, model: 'poisson' }, [0]).outgoingLimit.share, y, { abs: 1e-4 }, `c ${c}`);
  });
});

it.each(published.doubles)('double plan $model $n1/$c1/$r1 and $n2/$c2, lot $lot', ({ model, n1, c1, r1, n2, c2, lot, points, worst }) => {
  const check = { method: 'Double sampling plan', source: scipy };
  const got = doublePlan({ n1, c1, r1, n2, c2, lot, model: model as CountModel }, points.map(({ share }) => share));
  points.forEach((expected, i) => {
    const point = got.points[i];
    agrees(check, point?.accept, expected.accept, rel, `accept ${expected.share}`);
    agrees(check, point?.sampled, expected.sampled, rel, `ASN ${expected.share}`);
    agrees(check, point?.outgoing, expected.outgoing, rel, `outgoing ${expected.share}`);
    if (expected.inspected !== null) agrees(check, point?.inspected, expected.inspected, rel, `ATI ${expected.share}`);
    else expect(point?.inspected).toBeNull();
  });
  agrees(check, got.outgoingLimit.share, worst[0] as number, { rel: 1e-7 }, 'AOQL');
  agrees(check, got.outgoingLimit.incoming, worst[1] as number, { rel: 1e-5 }, 'AOQL at');
});

it('the double plan 50/2, 100/6 of the e-Handbook at 6 %: decided by the first sample 0.445, 106 units on average (its 0.445 and 0.555 are rounded)', () => {
  const point = doublePlan({ n1: 50, c1: 2, r1: null, n2: 100, c2: 6, lot: null, model: 'binomial' }, [0.06]).points[0];
  agrees({ method: 'Double sampling plan', source: 'NIST e-Handbook 6.2.4' }, point?.decidedFirst, 0.445, { abs: 5.1e-4 }, 'decided');
  agrees({ method: 'Double sampling plan', source: 'NIST e-Handbook 6.2.4' }, point?.sampled, 106, { abs: 1 }, 'ASN');
});

it('the table of double plans with equal samples of the e-Handbook, good to about 2 % there (quoted from memory, recomputed by SciPy)', () => {
  const table = [[0, 1, 0.21, 2.5], [1, 2, 0.52, 3.92], [0, 2, 0.43, 2.96], [1, 3, 0.76, 4.11], [2, 4, 1.16, 5.39], [1, 4, 1.04, 4.42], [2, 5, 1.43, 5.55], [3, 6, 1.87, 6.78]] as const;
  for (const [c1, c2, good, bad] of table) {
    const n = 1000;
    const { points } = doublePlan({ n1: n, c1, r1: null, n2: n, c2, lot: null, model: 'poisson' }, [good / n, bad / n]);
    agrees({ method: 'Double sampling plan', source: 'NIST e-Handbook 6.2.4, n1 = n2' }, points[0]?.accept, 0.95, { abs: 0.003 }, `${c1}, ${c2} good`);
    agrees({ method: 'Double sampling plan', source: 'NIST e-Handbook 6.2.4, n1 = n2' }, points[1]?.accept, 0.1, { abs: 0.005 }, `${c1}, ${c2} bad`);
  }
});

it.each(published.plans)('smallest $model plan for $good/$alpha and $bad/$beta, lot $lot', ({ model, good, alpha, bad, beta, lot, answer }) => {
  const got = findPlan({ good: Number(good), producerRisk: Number(alpha), bad: Number(bad), consumerRisk: Number(beta), lot, model: model as CountModel });
  agreesExactly({ method: 'Plan for two points', source: 'every plan tried (Guenther 1969)' }, [got.n, got.c, got.largestN], answer, 'n, c, largest n');
});

it('a plan found holds both risks, and none with fewer defectives or units does', () => {
  fc.assert(fc.property(fc.constantFrom('binomial', 'poisson'), fc.double({ min: 0.001, max: 0.03, noNaN: true }), fc.double({ min: 3, max: 20, noNaN: true }), (model, good, ratio) => {
    const points = { good, producerRisk: 0.05, bad: Math.min(0.9, good * ratio), consumerRisk: 0.1, lot: null, model } as const;
    const { n, c, acceptGood, acceptBad } = findPlan(points);
    expect(acceptGood).toBeGreaterThanOrEqual(0.95 - 1e-9);
    expect(acceptBad).toBeLessThanOrEqual(0.1 + 1e-9);
    const at = (size: number, most: number, share: number): number => (model === 'binomial' ? binomialCdf(most, size, share) : poissonCdf(most, size * share));
    if (n > c + 1) expect(at(n - 1, c, points.bad)).toBeGreaterThan(0.1);
    // With fewer allowed, the smallest n that protects the consumer rejects too much of the good, and with it every larger one.
    let size = 1;
    for (let fewer = 0; fewer < c; fewer += 1) {
      while (at(size, fewer, points.bad) > 0.1) size += 1;
      expect(at(size, fewer, good)).toBeLessThan(0.95);
    }
  }), { numRuns: 60 });
});

it('a quality accepted with a probability is accepted with it, and in a lot no more defectives are', () => {
  fc.assert(fc.property(fc.integer({ min: 1, max: 200 }), fc.integer({ min: 0, max: 8 }), fc.constantFrom(0.95, 0.5, 0.1), (n, most, chance) => {
    const c = Math.min(most, n - 1);
    expectWithin(singlePlan({ n, c, lot: null, model: 'binomial' }, [shareAccepted({ n, c, lot: null, model: 'binomial' }, chance)]).points[0]?.accept, chance, { rel: 1e-9 }, 'binomial');
    const lot: SinglePlan = { n, c, lot: 400, model: 'hypergeometric' };
    const share = shareAccepted(lot, chance);
    const [at, beyond] = singlePlan(lot, [share, Math.min(1, share + 1 / 400)]).points;
    expect(at?.accept).toBeGreaterThanOrEqual(chance);
    expect(beyond?.accept).toBeLessThan(chance);
  }), { numRuns: 100 });
});

it('a second sample that cannot save the lot is not drawn: the double plan is then between its two single plans', () => {
  const shares = [0, 0.01, 0.03, 0.08, 0.2];
  const double = doublePlan({ n1: 60, c1: 1, r1: null, n2: 60, c2: 4, lot: 1000, model: 'hypergeometric' }, shares).points;
  const strict = singlePlan({ n: 60, c: 1, lot: 1000, model: 'hypergeometric' }, shares).points;
  double.forEach((point, i) => {
    expect(point.accept).toBeGreaterThanOrEqual((strict[i]?.accept ?? 2) - 1e-12);
    expect(point.sampled).toBeGreaterThanOrEqual(60);
    expect(point.sampled).toBeLessThanOrEqual(120);
  });
});

it('refuses plans that do not fit', () => {
  expect(() => singlePlan({ n: 0, c: 0, lot: null, model: 'binomial' }, [0.1])).toThrow('needs a sample that is whole, 1 to 1000000000, 0 given');
  expect(() => singlePlan({ n: 10, c: 11, lot: null, model: 'binomial' }, [0.1])).toThrow('needs an acceptance number that is whole, 0 to 10, 11 given');
  expect(() => singlePlan({ n: 10, c: 1, lot: null, model: 'hypergeometric' }, [0.1])).toThrow('needs a whole lot size');
  expect(() => singlePlan({ n: 10, c: 1, lot: null, model: 'binomial' }, [1.1])).toThrow('needs a share defective from 0 to 1, 1.1 given');
  const plan = { n1: 50, c1: 2, r1: null, n2: 100, c2: 6, lot: null, model: 'binomial' } as const;
  expect(() => doublePlan({ ...plan, c2: 2 }, [0.1])).toThrow('both samples that is whole, 3 to 150, 2 given');
  expect(() => doublePlan({ ...plan, r1: 3 }, [0.1])).toThrow('first sample that is whole, 4 to 7, 3 given');
  expect(() => doublePlan({ ...plan, lot: 120 }, [0.1])).toThrow('a second sample that is whole, 1 to 70, 100 given');
  const two = { good: 0.01, producerRisk: 0.05, bad: 0.06, consumerRisk: 0.1, lot: null, model: 'binomial' } as const;
  expect(() => findPlan({ ...two, bad: 0.01 })).toThrow('needs a good share below the bad one, 0.01 and 0.01 given');
  expect(() => findPlan({ ...two, bad: 0.0101, good: 0.0100 })).toThrow('needs shares further apart');
  expect(() => findPlan({ ...two, lot: 10, model: 'hypergeometric', good: 0.11, bad: 0.12 })).not.toThrow();
  expect(() => findPlan({ ...two, producerRisk: 0.5, consumerRisk: 0.5 })).toThrow('needs risks that sum to less than 1');
});
