import { z } from 'zod';
import { endpoint } from './endpoint.js';
import { readers } from './roles.js';
import { finite, id, moment } from './shapes.js';

export const unitView = z.object({ id, code: z.string(), position: z.number().int() });
export const machineView = z.object({ id, code: z.string(), name: z.string(), retired: z.boolean(), units: z.array(unitView) });
export const stepView = z.object({ id, kind: z.string(), position: z.number().int(), machines: z.array(machineView) });
export const lineView = z.object({ id, code: z.string(), name: z.string(), position: z.number().int(), lanes: z.array(z.object({ id, code: z.string(), name: z.string(), position: z.number().int() })), steps: z.array(stepView) });
export const productView = z.object({
  id, code: z.string(), name: z.string(), customer: z.string(), diameter: finite, height: finite, bodyPlate: finite, endPlate: finite, seamProfile: z.string(), overlapFactor: finite, retired: z.boolean(),
});
export const characteristicView = z.object({
  id, code: z.string(), name: z.string(), unit: z.string(), kind: z.string(), stepKind: z.string(), gaugeStep: finite, decimals: z.number().int(),
  plausibleLow: finite.nullable(), plausibleHigh: finite.nullable(), formula: z.string().nullable(), chartKind: z.string(), basis: z.string(),
});
export const gaugeView = z.object({ id, code: z.string(), name: z.string(), unit: z.string(), resolution: finite, calibrationDue: moment.nullable(), retired: z.boolean() });
export const checkPlanView = z.object({
  id, machineId: id, productId: id, name: z.string(),
  /** Of each unit or each lane where the plan is kept apart by them, else of the machine. */
  cans: z.number().int(), perUnit: z.boolean(), perLane: z.boolean(), positions: z.array(z.string()), characteristics: z.array(z.string()),
  everyMinutes: z.number().int().nullable(), intervalSource: z.string(), retired: z.boolean(),
});
export const specificationView = z.object({ id, productId: id, characteristicId: id, revision: z.number().int(), lsl: finite.nullable(), target: finite.nullable(), usl: finite.nullable(), effectiveFrom: moment, author: z.string(), reason: z.string() });

export const plantTree = z.object({
  plant: z.object({ name: z.string(), timeZone: z.string(), demo: z.boolean() }),
  lines: z.array(lineView), products: z.array(productView), characteristics: z.array(characteristicView), gauges: z.array(gaugeView), checkPlans: z.array(checkPlanView),
  /** The revision in force now of each product and characteristic. */
  specifications: z.array(specificationView),
});
export type PlantTree = z.infer<typeof plantTree>;

export const getPlant = endpoint({
  method: 'GET', path: '/api/plant', feature: 'plant', access: readers,
  summary: 'The whole plant: lines in order, machines, units, products, characteristics, gauges, check plans, specifications in force', answer: plantTree,
});
