import { expect, it } from 'vitest';
import { crossedGauge, nominalRatings, stabilityOfGauge } from '#contract/workbench/gauges';
import type { Endpoint } from '#contract/endpoint';
import { gaugesExamples } from './gauges.examples.js';
import { gaugesMethods } from './gauges.js';

const answerTo = (endpoint: Endpoint, body: unknown) => {
  const method = gaugesMethods.find((candidate) => candidate.endpoint === endpoint);
  if (!method) throw new Error(`${endpoint.path} is not among the methods`);
  return method.compute(body, () => undefined);
};

it('there is an example of every method, and each answers as the contract says', () => {
  expect(new Set(gaugesExamples.map(({ endpoint }) => endpoint))).toEqual(new Set(gaugesMethods.map(({ endpoint }) => endpoint)));
  for (const { endpoint, body } of gaugesExamples) {
    const answer = answerTo(endpoint, body);
    // Nothing is left out, nothing is added: what the contract reads is all there is.
    expect(endpoint.answer?.parse(answer), endpoint.path).toEqual(answer);
  }
});

it('options that are left out take the values the description says', () => {
  const readings = [[[1, 2], [2, 2]], [[5, 6], [6, 7]], [[9, 9], [8, 9]]];
  expect(answerTo(crossedGauge, { readings })).toEqual(answerTo(crossedGauge, { readings, poolAbove: 0.25, multiplier: 6, confidence: 0.95, tolerance: null }));
});

it('refuses shapes before they are computed, and says what is expected', () => {
  expect(() => answerTo(crossedGauge, { readings: [[[1, 2], [2, 2]]] })).toThrow('at least two parts are expected');
  expect(() => answerTo(stabilityOfGauge, { checks: [[1]] })).toThrow('at least two checks are expected');
  expect(() => answerTo(nominalRatings, { ratings: Array.from({ length: 101 }, (_, i) => [`c${i}`, 'x']) })).toThrow('at most 100 categories are expected');
});

it('leaves what cannot be computed to the sentence of the statistics', () => {
  expect(() => answerTo(crossedGauge, { readings: [[[1, 2], [2, 2]], [[5, 6], [6]]] })).toThrow(new RangeError('gaugeCrossed: needs 2 trials throughout, 1 given at 2, 2'));
});
