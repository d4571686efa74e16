import { expect, it } from 'vitest';
import { agrees, agreesExactly } from '../../../test/published/agrees.js';
import published from '../../../test/published/sampling.json' with { type: 'json' };
import { exactCount } from './exact-count.js';
import { exactFraction } from './exact-fraction.js';
import { smallestWhole } from './smallest-whole.js';
import { zeroAcceptanceOfLot, zeroAcceptanceOfShare } from './zero-acceptance.js';

it.each(published.zero)('zero acceptance in a lot of %d with %d defective at risk %d: %d units', (lot, defective, risk, n, accept) => {
  const check = { method: 'Zero acceptance', source: 'whole-number count of samples, Python' };
  const got = zeroAcceptanceOfLot(lot as number, defective as number, risk as number);
  agreesExactly(check, got.n, n, 'n');
  agrees(check, got.accept, accept as number, { rel: 1e-10, abs: 1e-300 }, 'accept');
});

it('zero acceptance of a process: smallest n with (1 - p)^n of no more than the risk', () => {
  for (const [share, risk, n] of [[0.02, 0.1, 114], [0.01, 0.1, 230], [0.005, 0.1, 460], [0.01, 0.05, 299], [0.05, 0.05, 59], [0.5, 0.125, 3]] as const) {
    agreesExactly({ method: 'Zero acceptance', source: 'ceiling of log risk over log(1 - share)' }, zeroAcceptanceOfShare(share, risk).n, n, `${share}, ${risk}`);
  }
});

it.each(published.finite)('%d found among %d of a lot of %d at %d', (found, n, lot, confidence, low, high, upperBound) => {
  const got = exactCount(found as number, n as number, lot as number, confidence as number);
  agreesExactly({ method: 'Defectives in a finite lot', source: 'every number of defectives tried (Buonaccorsi 1987)' }, got, { low, high, upperBound }, 'bounds');
});

it('in a very large lot the bounds are those of a share', () => {
  const lot = 100_000_000;
  const [count, share] = [exactCount(3, 200, lot), exactFraction(3, 200)];
  agrees({ method: 'Defectives in a finite lot', source: 'Clopper & Pearson 1934 as the lot grows' }, count.upperBound / lot, share.upperBound, { rel: 1e-5 }, 'upper bound');
  agrees({ method: 'Defectives in a finite lot', source: 'Clopper & Pearson 1934 as the lot grows' }, count.low / lot, share.low, { rel: 1e-5 }, 'low');
  agrees({ method: 'Defectives in a finite lot', source: 'Clopper & Pearson 1934 as the lot grows' }, count.high / lot, share.high, { rel: 1e-5 }, 'high');
});

it('a lot looked at whole is known', () => {
  expect(exactCount(4, 80, 80)).toEqual({ low: 4, high: 4, upperBound: 4 });
});

it('the smallest whole number that holds, wherever it lies', () => {
  for (let first = 3; first <= 40; first += 1) expect(smallestWhole((n) => n >= first, 3, 39)).toBe(first <= 39 ? first : null);
  expect(smallestWhole(() => true, 5, 4)).toBeNull();
});

it('refuses lots and risks that do not fit', () => {
  expect(() => zeroAcceptanceOfLot(100, 0, 0.1)).toThrow('needs a number of defectives that is whole, 1 to 100, 0 given');
  expect(() => zeroAcceptanceOfLot(0, 1, 0.1)).toThrow('needs a whole lot size');
  expect(() => zeroAcceptanceOfShare(0.1, 1)).toThrow('needs a risk strictly between 0 and 1, 1 given');
  expect(() => zeroAcceptanceOfShare(1e-12, 0.1)).toThrow('needs a larger share or risk');
  expect(() => exactCount(5, 4, 10)).toThrow('needs a number found that is whole, 0 to 4, 5 given');
  expect(() => exactCount(0, 11, 10)).toThrow('needs a sample that is whole, 1 to 10, 11 given');
});
