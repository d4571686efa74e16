import { expect, it } from 'vitest';
import { leftChecks } from './left-checks.js';

const quiet = (checkId: number) => ({ checkId, outsideSpecification: 0, signals: [] });
const first = [quiet(1), { ...quiet(2), outsideSpecification: 1 }, { ...quiet(3), signals: [7] }];

it('leaves what stands out until a person chooses it', () => {
  expect([...leftChecks(first, new Map())]).toEqual([2, 3]);
  expect([...leftChecks(first, new Map([[1, false], [2, true]]))]).toEqual([1, 3]);
});

it('leaves what stands out of another day, whatever was chosen of the first one', () => {
  expect([...leftChecks([quiet(4), { ...quiet(5), signals: [8] }], new Map([[2, true], [3, true]]))]).toEqual([5]);
});
