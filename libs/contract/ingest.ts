import { z } from 'zod';
import { endpoint } from './endpoint.js';
import { correctors, readers } from './roles.js';
import { id, idParams, moment } from './shapes.js';

function isTimeZone(text: string): boolean {
  try {
    return new Intl.DateTimeFormat('en', { timeZone: text }).resolvedOptions().timeZone !== '';
  } catch {
    return false;
  }
}

/** How the file is written. Times without a zone of their own are of `timeZone`. */
export const layout = z.object({
  encoding: z.enum(['utf-8', 'windows-1252']), separator: z.enum([',', ';', '\t']), decimal: z.enum(['.', ',']),
  dateOrder: z.enum(['year-month-day', 'day-month-year', 'month-day-year']), timeZone: z.string().max(60).refine(isTimeZone, 'a time zone such as Europe/Lisbon or UTC'),
});
export type Layout = z.infer<typeof layout>;

export const columnFields = ['ignore', 'takenAt', 'date', 'time', 'machine', 'product', 'unit', 'lane', 'can', 'position', 'characteristic', 'value', 'unitOfMeasure', 'check', 'gauge', 'inspector', 'note', 'reading'] as const;
/**
 * What one column of the file holds. Long form: characteristic and value are columns. Wide form: each `reading` column
 * names its characteristic and position. `unit` is the head, spindle or lane of the machine; `lane` the can of a double-high body;
 * `check` a number that keeps apart checks of one machine at one moment. `measuredIn` is the unit of measure of the column's readings.
 */
export const columnMapping = z.object({ column: z.string().max(200), field: z.enum(columnFields), characteristic: z.string().max(40).optional(), position: z.string().max(40).optional(), measuredIn: z.string().max(20).optional() });
/** Readings in `from` are multiplied by `factor` to be kept in `to`: only where a person says so. */
export const conversion = z.object({ from: z.string().trim().min(1).max(20), to: z.string().trim().min(1).max(20), factor: z.number().positive().max(1e9) });
export const mapping = z.object({
  columns: z.array(columnMapping).min(1).max(400),
  /** Where no column says it: codes that hold for every row. */
  machine: z.string().max(40).optional(), product: z.string().max(40).optional(), characteristic: z.string().max(40).optional(),
  /** A reading in another unit of measure than its characteristic's is refused, unless this says how to convert it. */
  conversions: z.array(conversion).max(20).default([]),
  /** Readings outside what the can or the gauge allows are refused, unless a person says that they are as measured. */
  asMeasured: z.boolean().default(false),
});
export type Mapping = z.infer<typeof mapping>;

export const importState = z.enum(['new', 'running', 'stopped', 'done', 'undone']);
export const importView = z.object({
  id, fileName: z.string(), bytes: z.number().int(), state: importState, rows: z.number().int(), done: z.number().int(), readings: z.number().int(), stored: z.number().int(), refused: z.number().int(),
  problem: z.string().nullable(), startedBy: z.string(), startedAt: moment, finishedAt: moment.nullable(), undoneAt: moment.nullable(), hasRefusedRows: z.boolean(), stoppedBy: z.string().nullable(),
});
export type ImportView = z.infer<typeof importView>;

/** `undecided`: what the bytes leave open, and a person has to say. */
export const fileLook = z.object({ import: importView, layout, mapping, remembered: z.boolean(), undecided: z.array(z.enum(['dateOrder'])), header: z.array(z.string()), sample: z.array(z.array(z.string())) });

export const rowReasons = ['columns', 'unknown-name', 'ambiguous-name', 'no-reading', 'moment-form', 'moment-day', 'moment-skipped', 'future', 'can', 'position', 'derived', 'number', 'unit', 'too-large', 'implausible', 'corrected-away', 'differs', 'twice', 'check-size'] as const;
/** Why a row is refused, for a screen to put into words; the same reason in English stands beside it. */
export const rowReason = z.object({ code: z.enum(rowReasons), values: z.record(z.string(), z.union([z.string(), z.number(), z.null()])) });
export type RowReason = z.infer<typeof rowReason>;

export const rowVerdict = z.enum(['store', 'already-stored', 'refused']);
export const previewView = z.object({
  rows: z.number().int(), readings: z.number().int(), toStore: z.number().int(), alreadyStored: z.number().int(), refusedRows: z.number().int(), checks: z.number().int(),
  /** `why` is of the first row: its values may differ in the others. */
  reasons: z.array(z.object({ reason: z.string(), why: rowReason, rows: z.number().int(), firstRow: z.number().int() })),
  /** The first rows, and after them the first refused ones. */
  sample: z.array(z.object({ row: z.number().int(), cells: z.array(z.string()), verdict: rowVerdict, what: z.string(), why: z.array(rowReason), characteristics: z.array(z.string()) })),
});
export type PreviewView = z.infer<typeof previewView>;

const file = z.object({ file: z.string().meta({ format: 'binary', description: 'CSV, at most 64 MB, or XLSX, at most 16 MB' }) });
const asked = z.object({ layout, mapping });

export const uploadImport = endpoint({ method: 'POST', path: '/api/imports', feature: 'ingest', access: correctors, status: 201, summary: 'Bring a file: answers how it seems to be written and what its columns seem to hold', description: 'Nothing is stored as readings yet.', body: file, bodyType: 'multipart', answer: fileLook, problems: ['too-large', 'not-readable'] });
export const lookAtImport = endpoint({ method: 'POST', path: '/api/imports/:id/look', feature: 'ingest', access: correctors, summary: 'Read the header and the first rows again with another layout', params: idParams, body: z.object({ layout }), answer: fileLook, problems: ['not-found', 'not-readable'] });
export const previewImport = endpoint({ method: 'POST', path: '/api/imports/:id/preview', feature: 'ingest', access: correctors, summary: 'Row by row, what would be stored or why it is refused', params: idParams, body: asked, answer: previewView, problems: ['not-found', 'not-readable'] });
export const startImport = endpoint({ method: 'POST', path: '/api/imports/:id/start', feature: 'ingest', access: correctors, status: 202, summary: 'Store the good rows; the mapping is remembered for files with the same header', params: idParams, body: asked, answer: importView, problems: ['not-found', 'wrong-state'] });
export const continueImport = endpoint({ method: 'POST', path: '/api/imports/:id/continue', feature: 'ingest', access: correctors, status: 202, summary: 'Go on with an import that was stopped; nothing is stored twice', params: idParams, body: z.object({}), answer: importView, problems: ['not-found', 'wrong-state'] });
export const stopImport = endpoint({ method: 'POST', path: '/api/imports/:id/stop', feature: 'ingest', access: correctors, summary: 'Stop a running import; what is stored stays', params: idParams, body: z.object({}), answer: importView, problems: ['not-found', 'wrong-state'] });
export const undoImport = endpoint({ method: 'POST', path: '/api/imports/:id/undo', feature: 'ingest', access: correctors, summary: 'Take back everything that an import stored, as one act', description: 'The values stay readable as replaced ones; signals that rested on them are withdrawn.', params: idParams, body: z.object({ reason: z.string().trim().min(3).max(2000) }), answer: importView, problems: ['not-found', 'wrong-state'] });
export const listImports = endpoint({ method: 'GET', path: '/api/imports', feature: 'ingest', access: readers, summary: 'Imports, newest first', answer: z.array(importView) });
export const getImport = endpoint({ method: 'GET', path: '/api/imports/:id', feature: 'ingest', access: readers, summary: 'State and progress of an import', params: idParams, answer: importView, problems: ['not-found'] });
export const getRefusedRows = endpoint({ method: 'GET', path: '/api/imports/:id/refused.csv', feature: 'ingest', access: readers, summary: 'The refused rows as a file, each with its reason', params: idParams, answer: z.string(), answerType: 'text/csv', problems: ['not-found'] });
