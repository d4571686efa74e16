import { expect, it } from 'vitest';
import type { Endpoint } from '#contract/endpoint';
import { chartToUse, memoryOfReadings, partOfVariation, trialLimits } from '#contract/workbench/choosing';
import { choosingExamples } from './choosing.examples.js';
import { choosingMethods } from './choosing.js';

const answerTo = (endpoint: Endpoint, body: unknown) => {
  const method = choosingMethods.find((candidate) => candidate.endpoint === endpoint);
  if (!method) throw new Error(`${endpoint.path} is not among the methods`);
  return method.compute(body, () => undefined);
};

it('there is an example of every method, and each answers as the contract says', () => {
  expect(new Set(choosingExamples.map(({ endpoint }) => endpoint))).toEqual(new Set(choosingMethods.map(({ endpoint }) => endpoint)));
  for (const { endpoint, body } of choosingExamples) {
    const answer = answerTo(endpoint, body);
    expect(endpoint.answer?.parse(answer), endpoint.path).toEqual(answer);
  }
});

it('the example with a cause loses that subgroup and no other', () => {
  const body = choosingExamples.find(({ endpoint }) => endpoint === trialLimits)?.body;
  expect(answerTo(trialLimits, body)).toMatchObject({ rounds: [{ removed: [{ index: 4, cause: 'tool changed' }] }, { removed: [] }], candidate: { subgroups: 24 } });
});

it('options that are left out take the values the description says', () => {
  const values = [1, 2, 3, 2, 1, 2, 3, 2, 1];
  expect(answerTo(memoryOfReadings, { values })).toEqual(answerTo(memoryOfReadings, { values, lags: 2, confidence: 0.95, tolerated: 0.1 }));
  const subgroups = [[1, 2], [2, 1], [3, 1]];
  expect(answerTo(chartToUse, { subgroups })).toEqual(answerTo(chartToUse, { subgroups, members: 'pieces', products: 1 }));
});

it('refuses shapes before they are computed, and leaves the rest to the sentence of the statistics', () => {
  expect(() => answerTo(partOfVariation, { values: [1, 2], levels: [] })).toThrow('at least one level is expected');
  expect(() => answerTo(trialLimits, { kind: 'p', subgroups: [[1]] })).toThrow();
  expect(() => answerTo(trialLimits, { kind: 'xbar-r', subgroups: [[1, 2]] })).toThrow(new RangeError('studyLimits: needs at least 20 subgroups with a reading for limits, 1 given'));
  expect(() => answerTo(partOfVariation, { values: [1, 2], levels: [{ name: 'can', labels: [1] }] })).toThrow(new RangeError('varianceComponents: needs one label a reading, level 1 has 1 for 2'));
});
