import { z } from 'zod';
import { planDue, planDueFields, planReason } from './check-plans.js';
import { endpoint } from './endpoint.js';
import { engineers, readers } from './roles.js';
import { code, finite, id, idParams, idText, moment, shortText } from './shapes.js';

/** What a set-up act answers: the id of what it made or changed. */
export const made = z.object({ id });

export const unitView = z.object({ id, code: z.string(), position: z.number().int() });
export const machineView = z.object({ id, code: z.string(), name: z.string(), retired: z.boolean(), units: z.array(unitView) });
export const stepView = z.object({ id, kind: z.string(), position: z.number().int(), machines: z.array(machineView) });
export const seconds = z.number({ error: 'seconds, 0 or more' }).min(0, 'seconds, 0 or more').max(604_800, 'a week at most');
export const cansBetween = z.number().int('a whole number of cans').min(0, '0 or more cans').max(1_000_000).nullable();
/** What lies between two steps: the time of a can with empty and with full tables, and the cans between while the line runs (null = not known). */
const stretch = z.object({ fromStepId: id, toStepId: id, shortestSeconds: seconds, longestSeconds: seconds, leastCans: cansBetween.default(null), mostCans: cansBetween.default(null) });
export const lineView = z.object({ id, code: z.string(), name: z.string(), position: z.number().int(), clockMinutes: finite, stretches: z.array(stretch), lanes: z.array(z.object({ id, code: z.string(), name: z.string(), position: z.number().int() })), steps: z.array(stepView) });
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
  everyMinutes: z.number().int().nullable(), intervalSource: z.string(), ...planDue, retired: z.boolean(),
});
export const specificationView = z.object({ id, productId: id, characteristicId: id, revision: z.number().int(), lsl: finite.nullable(), target: finite.nullable(), usl: finite.nullable(), effectiveFrom: moment, author: z.string(), reason: z.string() });

export const plantTree = z.object({
  plant: z.object({ name: z.string(), timeZone: z.string(), demo: z.boolean(), /** Whether a specification needs a second person to approve it. */ secondPerson: z.boolean() }),
  lines: z.array(lineView), products: z.array(productView), characteristics: z.array(characteristicView), gauges: z.array(gaugeView), checkPlans: z.array(checkPlanView),
  /** The revision in force now of each product and characteristic. */
  specifications: z.array(specificationView),
});
export type PlantTree = z.infer<typeof plantTree>;

export const getPlant = endpoint({
  method: 'GET', path: '/api/plant', feature: 'plant', access: readers, auditor: 'filtered',
  summary: 'The whole plant: lines in order, machines, units, products, characteristics, gauges, check plans, specifications in force', answer: plantTree,
});

// Set-up: engineers and the administrator make and change what everything else refers to. Nothing is deleted; what is no longer used is retired.

const lane = z.object({ code, name: shortText });
export const createLine = endpoint({ method: 'POST', path: '/api/lines', feature: 'plant', access: engineers, status: 201, summary: 'Add a line', description: 'Lanes: the cans of a double-high (or triple) body; none for a single-high line.', body: z.object({ code, name: shortText, lanes: z.array(lane).max(4).default([]) }), answer: made, problems: ['already-there'] });
export const changeLine = endpoint({ method: 'PUT', path: '/api/lines/:id', feature: 'plant', access: engineers, summary: 'Rename a line, or add lanes to it', params: idParams, body: z.object({ name: shortText, addLanes: z.array(lane).max(4).default([]) }), answer: made, problems: ['not-found', 'already-there'] });
export const setStretches = endpoint({
  method: 'PUT', path: '/api/lines/:id/stretches', feature: 'plant', access: engineers, summary: 'Say how long cans take between the steps of a line, for the trace', params: idParams,
  description: 'The whole list replaces the one before. From each step at most one stretch leads on, and it leads to a later step. `clockMinutes`: by how much printer, log book and counters may differ, each way.',
  body: z.object({ clockMinutes: z.number().min(0, 'minutes, 0 or more').max(120, 'two hours at most'), stretches: z.array(stretch).max(40) }), answer: made, problems: ['not-found'],
});
export const createStep = endpoint({ method: 'POST', path: '/api/steps', feature: 'plant', access: engineers, status: 201, summary: 'Add a step to a line; steps stand in the order of the process', body: z.object({ lineId: id, kind: code }), answer: made, problems: ['not-found'] });
export const changeStep = endpoint({ method: 'PUT', path: '/api/steps/:id', feature: 'plant', access: engineers, summary: 'Change the kind of a step that has no machine yet', params: idParams, body: z.object({ kind: code }), answer: made, problems: ['not-found', 'wrong-state'] });
const units = z.array(code).max(60);
export const createMachine = endpoint({ method: 'POST', path: '/api/machines', feature: 'plant', access: engineers, status: 201, summary: 'Add a machine to a step, with its units (heads, spindles, lanes) in order', body: z.object({ stepId: id, code, name: shortText, units: units.default([]) }), answer: made, problems: ['not-found', 'already-there'] });
export const changeMachine = endpoint({ method: 'PUT', path: '/api/machines/:id', feature: 'plant', access: engineers, summary: 'Rename or retire a machine, or add units to it', params: idParams, body: z.object({ name: shortText, retired: z.boolean(), addUnits: units.default([]) }), answer: made, problems: ['not-found', 'already-there'] });

const millimetres = z.number().positive().max(2000);
export const productFields = { name: shortText, customer: shortText, diameter: millimetres, height: millimetres, bodyPlate: z.number().min(0.05).max(1), endPlate: z.number().min(0.05).max(1), seamProfile: z.string().trim().max(40), overlapFactor: z.number().min(1).max(1.3) };
export const createProduct = endpoint({ method: 'POST', path: '/api/products', feature: 'plant', access: engineers, status: 201, summary: 'Add a product (a can); lengths in mm', description: 'overlapFactor is the k of the seam formulas (1.0 or 1.1). Derived readings keep the k they were computed with.', body: z.object({ code, ...productFields }), answer: made, problems: ['already-there'] });
export const changeProduct = endpoint({ method: 'PUT', path: '/api/products/:id', feature: 'plant', access: engineers, summary: 'Change or retire a product', description: 'A changed plate thickness or factor holds for checks from now on; limits of another factor no longer judge them.', params: idParams, body: z.object({ ...productFields, retired: z.boolean() }), answer: made, problems: ['not-found'] });

const chartKind = z.enum(['xbar-r', 'xbar-s', 'i-mr']);
const basis = z.enum(['reading', 'can']);
const characteristicFields = { name: shortText, gaugeStep: z.number().positive(), decimals: z.number().int().min(0).max(6), plausibleLow: finite.nullable(), plausibleHigh: finite.nullable(), chartKind, basis };
export const newCharacteristic = z.object({ code: code.regex(/^[a-z0-9-]+$/, 'small letters, digits and hyphens'), unit: z.string().trim().min(1).max(12), kind: z.enum(['variable', 'attribute', 'rating']).default('variable'), stepKind: code, formula: z.string().max(60).nullable().default(null), ...characteristicFields });
export const createCharacteristic = endpoint({ method: 'POST', path: '/api/characteristics', feature: 'plant', access: engineers, status: 201, summary: 'Add a characteristic', description: 'A formula makes it a derived one. chartKind and basis hold for streams that come into being later.', body: newCharacteristic, answer: made, problems: ['already-there'] });
export const changeCharacteristic = endpoint({ method: 'PUT', path: '/api/characteristics/:id', feature: 'plant', access: engineers, summary: 'Change name, gauge step, plausible range or charting of a characteristic', params: idParams, body: z.object(characteristicFields), answer: made, problems: ['not-found'] });
export const listUsualCharacteristics = endpoint({ method: 'GET', path: '/api/usual-characteristics', feature: 'plant', access: readers, summary: 'The usual characteristics of the trade, to choose from', description: 'Common practice, no source. They carry no specification and no limit.', answer: z.array(characteristicView.omit({ id: true }).extend({ known: z.boolean() })) });
export const addUsualCharacteristics = endpoint({ method: 'POST', path: '/api/usual-characteristics', feature: 'plant', access: engineers, status: 201, summary: 'Add some of the usual characteristics', body: z.object({ codes: z.array(code).min(1).max(40) }), answer: z.object({ added: z.number().int() }) });

/** A revision with what became of it. Approved without `decidedAt`: entered before approvals were asked for. */
export const specificationRevision = specificationView.extend({ state: z.enum(['proposed', 'approved', 'rejected']), createdAt: moment, decidedAt: moment.nullable(), decidedBy: z.string().nullable(), decision: z.string() });
export type SpecificationRevision = z.infer<typeof specificationRevision>;
export const createSpecification = endpoint({
  method: 'POST', path: '/api/specifications', feature: 'plant', access: engineers, status: 201, summary: 'Propose a revision of a specification', description: 'Revisions are never edited, and one judges nothing before it is approved (/api/specifications/:id/decision). lsl < target < usl where they are given; at least one of lsl and usl.',
  body: z.object({ productId: id, characteristicId: id, lsl: finite.nullable(), target: finite.nullable(), usl: finite.nullable(), effectiveFrom: moment, reason: z.string().trim().min(3).max(2000) }), answer: made, problems: ['not-found'],
});
export const listSpecifications = endpoint({ method: 'GET', path: '/api/specifications', feature: 'plant', access: readers, auditor: { thing: 'product', at: 'query.product' }, summary: 'All revisions of a product’s specifications, newest first', query: z.object({ product: idText, characteristic: idText.optional() }), answer: z.array(specificationRevision) });

export const planFields = { name: shortText, cans: z.number().int().min(1).max(100), perUnit: z.boolean(), perLane: z.boolean(), positions: z.array(z.string().trim().min(1).max(40)).min(1).max(24), characteristics: z.array(code).min(1).max(20), everyMinutes: z.number().int().min(1).max(10_080).nullable(), intervalSource: z.string().trim().max(200), ...planDueFields };
export const createCheckPlan = endpoint({ method: 'POST', path: '/api/check-plans', feature: 'plant', access: engineers, status: 201, summary: 'Add a check plan: what is measured at a machine for a product, and how often', body: z.object({ machineId: id, productId: id, ...planFields, reason: planReason.default('A new plan.') }), answer: made, problems: ['not-found', 'already-there'] });
export const changeCheckPlan = endpoint({ method: 'PUT', path: '/api/check-plans/:id', feature: 'plant', access: engineers, summary: 'Change or retire a check plan; what it said before is kept', description: '`revision` is the one that the person saw: another one by now refuses the change.', params: idParams, body: z.object({ ...planFields, retired: z.boolean(), reason: planReason, revision: z.number().int().optional() }), answer: made, problems: ['not-found', 'already-there', 'changed-meanwhile'] });

export const gaugeFields = { name: shortText, unit: z.string().trim().min(1).max(12), resolution: z.number().positive(), calibrationDue: moment.nullable() };
export const createGauge = endpoint({ method: 'POST', path: '/api/gauges', feature: 'plant', access: engineers, status: 201, summary: 'Add a gauge', body: z.object({ code, ...gaugeFields }), answer: made, problems: ['already-there'] });
export const changeGauge = endpoint({ method: 'PUT', path: '/api/gauges/:id', feature: 'plant', access: engineers, summary: 'Change or retire a gauge', params: idParams, body: z.object({ ...gaugeFields, retired: z.boolean() }), answer: made, problems: ['not-found'] });
