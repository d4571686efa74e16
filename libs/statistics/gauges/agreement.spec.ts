import fc from 'fast-check';
import { expect, it } from 'vitest';
import { agrees, agreesExactly } from '../../../test/published/agrees.js';
import published from '../../../test/published/gauges.json' with { type: 'json' };
import { expectWithin } from '../../../test/published/within.js';
import { cohenKappa } from './cohen-kappa.js';
import { crossTable } from './cross-table.js';
import { fleissKappa } from './fleiss-kappa.js';
import { nominalAgreement } from './nominal-agreement.js';
import { ordinalAgreement } from './ordinal-agreement.js';

const { tables, diagnoses } = published;

it.each(tables)('kappa and its errors: $name', ({ table, printed, source, ...set }) => {
  for (const [weights, kappa] of Object.entries(printed) as ['none' | 'linear', number][]) {
    agrees({ method: weights === 'none' ? 'Cohen kappa' : 'Weighted kappa', source: `${source} (from memory, recomputed)` }, cohenKappa(table, weights).kappa, kappa, { abs: kappa === 0.47 || kappa === 0.57 ? 5e-3 : 5e-4 }, weights);
  }
  for (const weights of ['none', 'linear', 'quadratic'] as const) {
    const check = { method: weights === 'none' ? 'Cohen kappa' : 'Weighted kappa', source: `numerical delta method, ${published.programs}` };
    const got = cohenKappa(table, weights);
    agrees(check, got.kappa, set[weights].kappa, { rel: 1e-12 }, `${weights}, kappa`);
    agrees(check, got.se, set[weights].se, { rel: 1e-7 }, `${weights}, error`);
    agrees(check, got.seNull, set[weights].seNull, { rel: 1e-7 }, `${weights}, error without agreement`);
    agrees(check, got.high, set[weights].kappa + 1.959963984540054 * set[weights].se, { rel: 1e-7 }, `${weights}, upper`);
  }
});

it('observed and chance agreement of Cohen 1960 and the variance of Fleiss, Cohen & Everitt 1969', () => {
  const cohen = cohenKappa(tables.find(({ name }) => name === 'cohen')?.table ?? []);
  const check = { method: 'Cohen kappa', source: 'Cohen 1960 (from memory, recomputed)' };
  agrees(check, cohen.observed, 0.7, { abs: 1e-12 }, 'observed');
  agrees(check, cohen.byChance, 0.41, { abs: 1e-12 }, 'by chance');
  const { se } = cohenKappa(tables.find(({ name }) => name === 'errors')?.table ?? []);
  agrees({ method: 'Cohen kappa', source: 'Fleiss, Cohen & Everitt 1969 (from memory, recomputed)' }, se, 0.076, { abs: 5e-4 }, 'error');
});

it('the psychiatric diagnoses of Fleiss 1971', () => {
  const check = { method: 'Fleiss kappa', source: 'Fleiss 1971, Psychological Bulletin 76 (from memory, recomputed)' };
  const numpy = { method: 'Fleiss kappa', source: published.programs };
  const got = fleissKappa(diagnoses.counts);
  agrees(check, got.kappa, diagnoses.printed.kappa, { abs: 5e-4 }, 'kappa, printed');
  agrees(check, got.observed, diagnoses.printed.observed, { abs: 5e-4 }, 'observed, printed');
  agrees(check, got.byChance, diagnoses.printed.byChance, { abs: 5e-4 }, 'by chance, printed');
  agrees(numpy, got.kappa, diagnoses.kappa, { rel: 1e-12 }, 'kappa');
  agrees(numpy, got.se, diagnoses.se, { rel: 1e-10 }, 'jackknife error');
  agrees(numpy, got.seNull, diagnoses.seNull, { rel: 1e-10 }, 'error without agreement');
  agrees({ ...check, source: 'Fleiss, Nee & Landis 1979 (z of 17.7, from memory, recomputed)' }, got.z, 17.7, { abs: 0.05 }, 'z');
  got.categories.forEach(({ kappa, share }, j) => {
    agrees(check, kappa, diagnoses.printed.categories[j] ?? Number.NaN, { abs: 5e-4 }, `category ${j + 1}, printed`);
    agrees(numpy, kappa, diagnoses.categories[j] ?? Number.NaN, { rel: 1e-12 }, `category ${j + 1}`);
    expectWithin(share, diagnoses.shares[j] ?? Number.NaN, { rel: 1e-12 }, `share ${j + 1}`);
  });
});

const ratings = [['good', 'good'], ['droop', 'good'], ['droop', 'droop'], ['vee', 'vee'], ['good', 'good'], ['good', 'droop']];
const standard = ['good', 'droop', 'droop', 'vee', 'good', 'good'];

it('misses and false alarms against a standard, with the exact interval', () => {
  const got = nominalAgreement({ ratings, standard, reject: ['droop', 'vee'] });
  agreesExactly({ method: 'Nominal agreement', source: 'counted by hand' }, got.againstStandard?.map(({ missed, falseAlarms, agreement }) => [missed?.fraction, falseAlarms?.fraction, agreement.fraction]), [[0, 0, 1], [1 / 3, 1 / 3, 4 / 6]], 'misses, false alarms, agreement');
  // None of 3: 1 - 0.025^(1/3) and 1 - 0.05^(1/3), by hand from Clopper & Pearson 1934.
  agrees({ method: 'Nominal agreement', source: 'Clopper & Pearson 1934, closed form for none found' }, got.againstStandard?.[0]?.missed?.high, 1 - 0.025 ** (1 / 3), { rel: 1e-9 }, 'missed, upper');
  agrees({ method: 'Nominal agreement', source: 'Clopper & Pearson 1934, closed form for none found' }, got.againstStandard?.[0]?.missed?.upperBound, 1 - 0.05 ** (1 / 3), { rel: 1e-9 }, 'missed, one-sided');
  expect(got.categories).toEqual(['good', 'droop', 'vee']);
  expect(got.allAgree.fraction).toBe(4 / 6);
  expect(got.pairs).toHaveLength(1);
  expect(got.pairs[0]?.kappa).toEqual(cohenKappa([[2, 1, 0], [1, 1, 0], [0, 0, 1]]));
  expect(nominalAgreement({ ratings, standard }).againstStandard?.[0]).toMatchObject({ missed: null, falseAlarms: null });
  expect(nominalAgreement({ ratings }).againstStandard).toBeNull();
});

it('grades within one step, and what is below the least grade', () => {
  const got = ordinalAgreement({ ratings: [[90, 80], [70, 70], [100, 90], [80, 80], [60, 80]], categories: [50, 60, 70, 80, 90, 100], steps: 1, standard: [90, 70, 90, 80, 60], least: 70 });
  agreesExactly({ method: 'Ordinal agreement', source: 'counted by hand' }, [got.pairs[0]?.exact.fraction, got.pairs[0]?.within.fraction, got.allWithin.fraction, got.pairs[0]?.meanDifference], [0.4, 0.8, 0.8, 0], 'shares');
  // 4 of 5: 95 % from 0.2836 to 0.9949 (Clopper & Pearson 1934, tables of exact limits, from memory).
  agrees({ method: 'Ordinal agreement', source: 'Clopper & Pearson limits, 4 of 5 (from memory)' }, got.pairs[0]?.within.low, 0.2836, { abs: 5e-5 }, 'low');
  agrees({ method: 'Ordinal agreement', source: 'Clopper & Pearson limits, 4 of 5 (from memory)' }, got.pairs[0]?.within.high, 0.9949, { abs: 5e-5 }, 'high');
  agreesExactly({ method: 'Ordinal agreement', source: 'counted by hand' }, got.againstStandard?.map(({ missed, falseAlarms }) => [missed?.fraction, falseAlarms?.fraction]), [[0, 0], [1, 0]], 'misses, false alarms');
  expect(ordinalAgreement({ ratings: [[1, 1], [2, 2]], categories: [1, 2], steps: 0 }).pairs[0]).toMatchObject({ exact: { fraction: 1 }, linear: { kappa: 1, z: expect.any(Number) } });
});

it('full agreement gives 1, one category nothing, and two raters swapped the same', () => {
  expect(cohenKappa([[5, 0], [0, 7]])).toMatchObject({ kappa: 1, se: 0, low: 1, high: 1 });
  expect(cohenKappa([[5, 0], [0, 0]])).toMatchObject({ kappa: null, se: null, low: null, z: null, observed: 1, byChance: 1 });
  expect(fleissKappa([[3, 0], [3, 0]])).toMatchObject({ kappa: null, seNull: null, z: null, se: null });
  expect(fleissKappa([[3, 0], [3, 0], [0, 3], [0, 3]]).kappa).toBe(1);
  const cells = fc.integer({ min: 2, max: 4 }).chain((k) => fc.array(fc.array(fc.integer({ min: 0, max: 20 }), { minLength: k, maxLength: k }), { minLength: k, maxLength: k }));
  fc.assert(fc.property(cells, fc.constantFrom('none' as const, 'linear' as const, 'quadratic' as const), (table, weights) => {
    fc.pre(table.flat().some((count) => count > 0));
    const plain = cohenKappa(table, weights);
    const turned = cohenKappa(table.map((_, i) => table.map((row) => row[i] ?? 0)), weights);
    const mirrored = cohenKappa([...table].reverse().map((row) => [...row].reverse()), weights);
    for (const other of [turned, mirrored]) {
      expect(other.kappa === null).toBe(plain.kappa === null);
      if (plain.kappa !== null) {
        expectWithin(other.kappa, plain.kappa, { rel: 1e-9, abs: 1e-9 }, 'kappa');
        expectWithin(other.se, plain.se ?? Number.NaN, { rel: 1e-6, abs: 1e-7 }, 'error');
        expect(plain.low).toBeGreaterThanOrEqual(-1);
        expect(plain.high).toBeLessThanOrEqual(1);
      }
    }
  }));
});

it('with two categories the weights make no difference, and with two raters Fleiss pools their margins', () => {
  const table = [[20, 5], [10, 15]];
  expect(cohenKappa(table, 'linear')).toEqual(cohenKappa(table));
  expect(cohenKappa(table, 'quadratic')).toEqual(cohenKappa(table));
  // Scott 1955: chance from the pooled margins 0.55 and 0.45, observed 0.7: (0.7 - 0.505) / 0.495.
  const rows = [...Array.from({ length: 20 }, () => [2, 0]), ...Array.from({ length: 15 }, () => [1, 1]), ...Array.from({ length: 15 }, () => [0, 2])];
  agrees({ method: 'Fleiss kappa', source: "Scott 1955, Public Opinion Quarterly 19: pi, by hand" }, fleissKappa(rows).kappa, 0.195 / 0.495, { rel: 1e-12 }, 'two raters');
});

it('refuses what it cannot compute and names the place', () => {
  expect(() => cohenKappa([[1]])).toThrow('square table of 2 categories or more');
  expect(() => cohenKappa([[1, 2], [3]])).toThrow('square table');
  expect(() => cohenKappa([[1, 2], [3, 0.5]])).toThrow('0.5 given in row 2, column 2');
  expect(() => cohenKappa([[0, 0], [0, 0]])).toThrow('at least 1 pair of ratings, 0 given');
  expect(() => cohenKappa([[1, 0], [0, 1]], 'none', 1)).toThrow('confidence strictly between 0 and 1, 1 given');
  expect(() => crossTable(['a'], [], ['a', 'b'])).toThrow('same length, 1 and 0 given');
  expect(() => crossTable(['a'], ['c'], ['a', 'b'])).toThrow('pair 1 is a, c');
  expect(() => crossTable(['a'], ['a'], ['a', 'a'])).toThrow('categories that differ');
  expect(() => fleissKappa([[1, 1]])).toThrow('at least 2 subjects and 2 categories, 1 and 2 given');
  expect(() => fleissKappa([[1, 1], [2, 1]])).toThrow('2 and at subject 2 3 given');
  expect(() => fleissKappa([[1, 1], [2, -1]])).toThrow('subject 2 has others');
  expect(() => fleissKappa([[1, 0], [0, 1]])).toThrow('at least 2 raters, 1 given');
  expect(() => nominalAgreement({ ratings: [['a', 'b'], ['a']] })).toThrow('subject 2 has 1');
  expect(() => nominalAgreement({ ratings: [['a', 'a'], ['a', 'a']] })).toThrow('at least 2 categories in use, 1 given');
  expect(() => nominalAgreement({ ratings, standard: ['a'] })).toThrow('a standard for every subject, 1 for 6 given');
  const grades = { ratings: [[1, 2], [2, 2]], categories: [1, 2], steps: 1 };
  expect(() => ordinalAgreement({ ...grades, categories: [2, 1] })).toThrow('each above the one before, 2 1 given');
  expect(() => ordinalAgreement({ ...grades, categories: [1, 3] })).toThrow('subject 1 has 2');
  expect(() => ordinalAgreement({ ...grades, steps: 0.5 })).toThrow('whole number of steps, 0 or more, 0.5 given');
  expect(() => ordinalAgreement({ ...grades, least: Number.NaN })).toThrow('finite least grade or null, NaN given');
  expect(() => ordinalAgreement({ ...grades, ratings: [[1, 2]] })).toThrow('at least 2 subjects and 2 raters, 1 and 2 given');
  expect(() => ordinalAgreement({ ...grades, ratings: [[1, 2], [1]] })).toThrow('subject 2 has 1');
  expect(() => ordinalAgreement({ ...grades, standard: [1] })).toThrow('a standard for every subject, 1 for 2 given');
});
