import { z } from 'zod';
import { deriveReading, type FormulaId, formulas } from '#canmaking/seam/derive';
import { isPlausible, meantText, readCell, type Typed } from './cell-typing.js';
import type { CellStep } from './entry-history.js';

export type SheetCharacteristic = { code: string; name: string; unit: string; decimals: number };
export type Measured = SheetCharacteristic & Typed & {
  /** An ordinal rating: kept as rated, entered by buttons. */
  rating: boolean;
  /** In force when the sheet was made; null where there is none. */
  specification: { revision: number; lsl: number | null; target: number | null; usl: number | null } | null;
};
/** What one check asks for: the cans in their order, where each comes from, what is read on them, and what is counted over them. */
export type Sheet = {
  machine: { id: number; code: string; name: string };
  product: { id: number; code: string; name: string; bodyPlate: number; endPlate: number; overlapFactor: number };
  plan: { id: number; name: string };
  /** What the plan asks for in full: `cans` of each of these units and lanes; both are empty where it does not ask by them. */
  every: { units: { id: number; code: string }[]; lanes: { id: number; code: string }[]; cans: number };
  cans: { number: number; unitId: number | null; unit: string | null; laneId: number | null; lane: string | null }[];
  positions: string[];
  measured: Measured[];
  counted: SheetCharacteristic[];
  derived: (SheetCharacteristic & { formula: FormulaId })[];
  gauges: { id: number; code: string; name: string; unit: string; calibrationDue: string | null }[];
};

/** What the form holds: text as it was typed, so that nothing a person entered is lost or rounded on the way. */
export const entryDraft = z.object({
  key: z.string().min(8),
  takenAt: z.string(),
  /** When the person began, by the clock of this device. */
  begunAt: z.string().default(''),
  /** True once any part of it was entered while the server was not reached. */
  offline: z.boolean().default(false),
  inspector: z.string(),
  note: z.string(),
  /** The units that were asked for, in the order of the cans; empty = all of the machine. */
  units: z.array(z.number().int()).default([]),
  /** By characteristic: can by can, position by position. */
  cells: z.record(z.string(), z.array(z.string())),
  /** Reasons for what was left out, by cell. */
  skips: z.record(z.string(), z.string()).default({}),
  /** Second readings as typed, by cell. */
  second: z.record(z.string(), z.string()).default({}),
  /** How many photos this browser keeps for it. */
  photos: z.number().int().default(0),
  counts: z.record(z.string(), z.object({ inspected: z.string(), nonconforming: z.string() })).default({}),
  gauges: z.record(z.string(), z.number().int()),
});
export type EntryDraft = z.infer<typeof entryDraft>;

export const cellCount = (sheet: Sheet): number => sheet.cans.length * sheet.positions.length;
export const cellKey = (code: string, place: number): string => `${code}/${place}`;

export function newDraft(sheet: Sheet, given: { key: string; takenAt: string; inspector: string; gauges: Record<string, number>; offline?: boolean; units?: number[] }): EntryDraft {
  const known = new Set(sheet.gauges.map((gauge) => gauge.id));
  return {
    key: given.key, takenAt: given.takenAt, begunAt: given.takenAt, inspector: given.inspector, offline: given.offline ?? false, note: '', units: given.units ?? [], photos: 0, skips: {}, second: {},
    counts: Object.fromEntries(sheet.counted.map(({ code }) => [code, { inspected: '', nonconforming: '' }])),
    gauges: Object.fromEntries(Object.entries(given.gauges).filter(([, id]) => known.has(id))),
    cells: Object.fromEntries(sheet.measured.map(({ code }) => [code, Array<string>(cellCount(sheet)).fill('')])),
  };
}

/** Whether a draft that was kept still fits the sheet: a plan may have changed since. */
export const fits = (sheet: Sheet, draft: EntryDraft): boolean => sheet.measured.every(({ code }) => draft.cells[code]?.length === cellCount(sheet)) && Object.keys(draft.cells).length === sheet.measured.length
  && Object.keys(draft.counts).every((code) => sheet.counted.some((entry) => entry.code === code));

/** The draft with empty cells for the cans that the sheet asks for further on. */
export function widened(sheet: Sheet, draft: EntryDraft, units: number[]): EntryDraft {
  return { ...draft, units, cells: Object.fromEntries(Object.entries(draft.cells).map(([code, cells]) => [code, [...cells, ...Array<string>(Math.max(0, cellCount(sheet) - cells.length)).fill('')]])) };
}

export function withCell(draft: EntryDraft, code: string, place: number, text: string): EntryDraft {
  return { ...draft, cells: { ...draft.cells, [code]: (draft.cells[code] ?? []).map((old, index) => (index === place ? text : old)) } };
}

export const stepOf = (draft: EntryDraft, code: string, place: number): CellStep => ({ code, place, text: draft.cells[code]?.[place] ?? '', skip: draft.skips[cellKey(code, place)] ?? null });

/** The draft with these cells as the steps say. A cell that has a reading is not left out. */
export function withSteps(draft: EntryDraft, steps: readonly CellStep[]): EntryDraft {
  return steps.reduce((before, { code, place, text, skip }) => {
    const { [cellKey(code, place)]: _old, ...others } = before.skips;
    return { ...withCell(before, code, place, text), skips: skip === null || text.trim() !== '' ? others : { ...others, [cellKey(code, place)]: skip } };
  }, draft);
}

/** The cell as it is left: "237" becomes the "2.37" that it was shown as. */
export const settled = (draft: EntryDraft, entry: Measured, place: number): string => meantText(draft.cells[entry.code]?.[place] ?? '', entry);

export const isUntouched = (draft: EntryDraft): boolean => draft.note === '' && draft.photos === 0 && Object.values(draft.cells).every((cells) => cells.every((text) => text.trim() === '')) && Object.keys(draft.skips).length === 0
  && Object.values(draft.counts).every(({ inspected, nonconforming }) => inspected === '' && nonconforming === '');

export function readingsOf(sheet: Sheet, draft: EntryDraft, code: string): (number | null)[] {
  const typed = sheet.measured.find((entry) => entry.code === code);
  return (draft.cells[code] ?? []).map((text) => { const value = readCell(text, typed); return value === 'unreadable' ? null : value; });
}

export type DraftProblem = { what: 'unreadable' | 'rating' | 'second'; code: string; place: number } | { what: 'count'; code: string } | { what: 'nothing' | 'taken-at' | 'inspector' };

const wholeNumber = (text: string): number | null => (/^\d{1,7}$/.test(text.trim()) ? Number(text) : null);
/** What was counted of one characteristic; null where nothing was typed, "wrong" where it cannot be. */
export function readCount(count: { inspected: string; nonconforming: string } | undefined): { inspected: number; nonconforming: number } | null | 'wrong' {
  if (!count || (count.inspected.trim() === '' && count.nonconforming.trim() === '')) return null;
  const [inspected, nonconforming] = [wholeNumber(count.inspected), wholeNumber(count.nonconforming)];
  return inspected === null || nonconforming === null || inspected < 1 || nonconforming > inspected ? 'wrong' : { inspected, nonconforming };
}

/** What keeps the check from being sent; empty when it may go. Missing readings do not: a squashed can is a fact. */
export function draftProblems(sheet: Sheet, draft: EntryDraft): DraftProblem[] {
  const cells = sheet.measured.flatMap((entry) => (draft.cells[entry.code] ?? []).flatMap((text, place): DraftProblem[] => {
    const [value, second] = [readCell(text, entry), readCell(draft.second[cellKey(entry.code, place)] ?? '', entry)];
    if (value === 'unreadable') return [{ what: 'unreadable', code: entry.code, place }];
    if (second === 'unreadable' || (second !== null && value === null)) return [{ what: 'second', code: entry.code, place }];
    return entry.rating && value !== null && !(Number.isInteger(value) && isPlausible(value, entry)) ? [{ what: 'rating', code: entry.code, place }] : [];
  }));
  const counts = sheet.counted.flatMap(({ code }): DraftProblem[] => (readCount(draft.counts[code]) === 'wrong' ? [{ what: 'count', code }] : []));
  const nothing = cells.length + counts.length === 0 && sheet.measured.every(({ code }) => readingsOf(sheet, draft, code).every((reading) => reading === null)) && sheet.counted.every(({ code }) => readCount(draft.counts[code]) === null);
  return [
    ...cells, ...counts, ...(nothing ? [{ what: 'nothing' as const }] : []),
    ...(Number.isNaN(new Date(draft.takenAt).getTime()) ? [{ what: 'taken-at' as const }] : []),
    ...(draft.inspector.trim() === '' ? [{ what: 'inspector' as const }] : []),
  ];
}

/** How many cells are dealt with, of how many the sheet asks for: a reading is in, or a reason says why there is none. */
export function filled(sheet: Sheet, draft: EntryDraft): { done: number; of: number; skipped: number } {
  const done = sheet.measured.reduce((sum, { code }) => sum + readingsOf(sheet, draft, code).filter((reading) => reading !== null).length, 0);
  return { done, of: sheet.measured.length * cellCount(sheet), skipped: Object.keys(draft.skips).length };
}

/** Derived readings of what was typed so far: a preview, the server computes the record. */
export function derivedPreview(sheet: Sheet, draft: EntryDraft): Map<string, (number | null)[]> {
  const entered = new Map(sheet.measured.map(({ code }) => [code, readingsOf(sheet, draft, code)]));
  return new Map(sheet.derived.map(({ code, formula }) => [code, Array.from({ length: cellCount(sheet) }, (_, place) => {
    const inputs = Object.fromEntries(formulas[formula].inputs.map((input) => [input, entered.get(input)?.[place] ?? null]));
    const answer = deriveReading(formula, inputs, sheet.product, sheet.product.overlapFactor);
    return answer && 'value' in answer ? answer.value : null;
  })]));
}

/** Readings of one can that can be read, for its mean and range. */
export function canReadings(sheet: Sheet, draft: EntryDraft, code: string, can: number): number[] {
  const width = sheet.positions.length;
  return readingsOf(sheet, draft, code).slice(can * width, (can + 1) * width).filter((reading) => reading !== null);
}
