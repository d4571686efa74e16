import type { Endpoint } from '#contract/endpoint';
import { associationExamples } from './methods/association.examples.js';
import { capabilityExamples } from './methods/capability.examples.js';
import { chartsExamples } from './methods/charts.examples.js';
import { choosingExamples } from './methods/choosing.examples.js';
import { gaugesExamples } from './methods/gauges.examples.js';
import { powerExamples } from './methods/power.examples.js';
import { rulesExamples } from './methods/rules.examples.js';
import { samplingExamples } from './methods/sampling.examples.js';

/** At least one request for every method, to be tried and to be shown. */
export const allExamples: readonly { endpoint: Endpoint; body: unknown }[] = [
  ...chartsExamples, ...rulesExamples, ...choosingExamples, ...capabilityExamples, ...gaugesExamples, ...powerExamples, ...samplingExamples, ...associationExamples,
];
