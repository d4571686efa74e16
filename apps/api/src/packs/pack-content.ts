import { z } from 'zod';
import type { CapabilityEntry } from '#contract/studies';
import { gaugeVerdict } from '#contract/gauge-standing';
import { packFinding, packTemplate } from '#contract/packs';
import { id, moment } from '#contract/shapes';

const text = z.string();
const finite = z.number();
const named = z.object({ id, code: text, name: text });
const place = z.object({ id, code: text }).nullable();

/** checkId, takenAt, sequence, positions of a can, readings can by can, gauge, formula, limits it was judged by, revision. */
export const packSubgroup = z.tuple([id, moment, z.number().int(), z.number().int().positive(), z.array(finite.nullable()), id.nullable(), text.nullable(), id.nullable(), z.number().int().positive()]);
export type PackSubgroup = z.infer<typeof packSubgroup>;

const packLimits = z.object({
  id, kind: z.enum(['xbar-r', 'xbar-s', 'i-mr']), centre: finite, sigma: finite, spreadCentre: finite, subgroups: z.number(), readings: z.number(),
  baselineFrom: moment, baselineTo: moment, excluded: z.unknown(), formula: text.nullable(), effectiveFrom: moment, author: text, reason: text,
});
export type PackLimits = z.infer<typeof packLimits>;
const packStream = z.object({ id, unit: place, lane: place, chartKind: z.enum(['xbar-r', 'xbar-s', 'i-mr']), basis: z.enum(['reading', 'can']), rules: z.array(text), limits: z.array(packLimits), subgroups: z.array(packSubgroup) });
export type PackStream = z.infer<typeof packStream>;
const packRevision = z.object({ id, revision: z.number().int(), lsl: finite.nullable(), target: finite.nullable(), usl: finite.nullable(), effectiveFrom: moment, reason: text, author: text });
export type PackRevision = z.infer<typeof packRevision>;
export const packSubject = z.object({
  product: named.extend({ customer: text }), machine: named.extend({ line: text }), characteristic: named.extend({ unit: text, decimals: z.number().int(), gaugeStep: finite, kind: text }),
  revisions: z.array(packRevision), streams: z.array(packStream),
});
export type PackSubject = z.infer<typeof packSubject>;

const step = z.object({ at: moment, actor: text, action: text, comment: text.nullable() });
const packSignal = z.object({ id, streamId: id, chart: text, rule: text, side: text, state: text, firedAt: moment, firstAt: moment, lastAt: moment, cause: text.nullable(), steps: z.array(step) });
export type PackSignal = z.infer<typeof packSignal>;
const packCalibration = z.object({ id, calibratedAt: moment, result: text, certificate: text, dueAt: moment.nullable(), previousDue: moment.nullable() });
/** Packs from before calibrations were frozen have the due date alone. */
const packGauge = z.object({ id, code: text, name: text, resolution: finite, unit: text, calibrationDue: moment.nullable(), calibrations: z.array(packCalibration).default([]) });
export type PackGauge = z.infer<typeof packGauge>;
const packGaugeStudy = z.object({
  id, title: text, design: text, gaugeId: id.nullable(), characteristicId: id, verdict: gaugeVerdict.nullable(), approvedAt: moment, ofTolerance: finite.nullable(), ofStudy: finite.nullable(), kappa: finite.nullable(),
});
const packIncident = z.object({
  id, kind: text, state: text, productId: id, canCode: text, madeAt: moment, receivedAt: moment, cansComplained: z.number(), cansExamined: z.number(), cansLeaking: z.number(), defect: text, description: text,
  containment: text, cause: text, action: text, verdict: text, closedWithout: text, closedAt: moment.nullable(), steps: z.array(step), verifications: z.array(z.object({ id, streamId: id, author: text, createdAt: moment })),
});
const packEvent = z.object({ id, at: moment, until: moment.nullable(), kind: text, line: text, machine: text.nullable(), text, actor: text });
const packCorrection = z.object({ streamId: id, checkId: id, takenAt: moment, revision: z.number(), readings: z.array(finite.nullable()), reason: text, by: text, at: moment });
const packSignature = z.object({ kind: text, recordId: id, meaning: text, printedName: text, role: text, at: moment, comment: text, contentHash: text });
const packMissed = z.object({ kind: text, plan: text, machine: text, line: text, product: text, from: moment, until: moment.nullable(), missed: z.number(), reason: text, source: text });
const packStudy = z.object({ id, title: text, note: text, author: text, createdAt: moment, version: text, answers: z.array(z.object({ method: text, body: z.unknown(), answer: z.unknown() })) });

export const packInputs = z.object({
  subjects: z.array(packSubject), gauges: z.array(packGauge), signals: z.array(packSignal), incidents: z.array(packIncident), events: z.array(packEvent), corrections: z.array(packCorrection),
  signatures: z.array(packSignature), checks: z.object({ stored: z.number(), reviewed: z.number() }), missed: z.array(packMissed), studies: z.array(packStudy),
  /** Newest approved study of each gauge (null: by eye) and characteristic that was measured with it; null: a pack from before they were frozen. */
  gaugeStudies: z.array(packGaugeStudy).nullable().default(null),
});
export type PackInputs = z.infer<typeof packInputs>;

export const packScope = z.object({
  title: text, customer: text, plant: z.object({ name: text, timeZone: text }), products: z.array(named), from: moment, to: moment, confidence: finite,
  template: packTemplate, studies: z.array(id),
});
export type PackScope = z.infer<typeof packScope>;

const lines = z.object({ centre: finite, lower: finite, upper: finite });
/** The chart of the period by itself: centre lines and limits for the commonest size of a subgroup. */
export const periodChart = z.object({ centre: finite, sigma: finite, spreadCentre: finite, subgroups: z.number(), n: z.number(), mean: lines, spread: lines.nullable() });
export type PeriodChart = z.infer<typeof periodChart>;
/** As the capability screen computes it; moments are text, as everything in the file. */
export type PackEntry = CapabilityEntry;
const entry = z.custom<PackEntry>((value) => typeof value === 'object' && value !== null && 'stability' in value && 'n' in value, 'the figures of a stream');
export const packResult = z.object({
  productId: id, machineId: id, characteristicId: id, used: packRevision.nullable(), inForce: z.array(id), streams: z.array(z.object({ entry, chart: periodChart.nullable() })), pooled: entry.nullable(),
});
export type PackResult = z.infer<typeof packResult>;
export const packResults = z.object({ subjects: z.array(packResult), studies: z.array(z.object({ id, answers: z.array(z.object({ method: text, answer: z.unknown() })) })), findings: z.array(packFinding) });
export type PackResults = z.infer<typeof packResults>;

export const FORMAT = { name: 'seamledger-pack', version: 1, numbers: 'RFC 8785: shortest decimal that reads back as the same IEEE 754 double' } as const;
export const packContent = z.object({
  format: z.object({ name: z.literal(FORMAT.name), version: z.literal(FORMAT.version), numbers: text }),
  softwareVersion: text, madeAt: moment, madeBy: z.object({ id, name: text }), chainHead: z.object({ seq: text, hash: text }).nullable(),
  scope: packScope, inputs: packInputs, results: packResults,
});
export type PackContent = z.infer<typeof packContent>;
/** The file that is handed over. */
export const packFile = z.object({ content: packContent, sha256: z.string().regex(/^[0-9a-f]{64}$/, '64 digits of 0-9 and a-f') });
