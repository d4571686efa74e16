import type { Method } from './method.js';
import { associationMethods } from './methods/association.js';
import { capabilityMethods } from './methods/capability.js';
import { chartsMethods } from './methods/charts.js';
import { choosingMethods } from './methods/choosing.js';
import { gaugesMethods } from './methods/gauges.js';
import { powerMethods } from './methods/power.js';
import { rulesMethods } from './methods/rules.js';
import { samplingMethods } from './methods/sampling.js';

/** Every method of the Workbench; the controller routes them, the worker computes them. */
export const allMethods: readonly Method[] = [
  ...chartsMethods, ...rulesMethods, ...choosingMethods, ...capabilityMethods, ...gaugesMethods, ...powerMethods, ...samplingMethods, ...associationMethods,
];
