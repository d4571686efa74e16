import { z } from 'zod';
import { deriveReading, type FormulaId, formulas } from '#canmaking/seam/derive';
import type { NewCheck } from '#contract/inspections';
import type { FieldError } from '#contract/problem';

export type SheetCharacteristic = { code: string; name: string; unit: string; decimals: number };
/** What one check asks for: the cans in their order, where each comes from, and what is read on them. */
export type Sheet = {
  machine: { id: number; code: string; name: string };
  product: { id: number; code: string; name: string; bodyPlate: number; endPlate: number; overlapFactor: number };
  plan: { id: number; name: string };
  cans: { number: number; unitId: number | null; unit: string | null; laneId: number | null; lane: string | null }[];
  positions: string[];
  measured: SheetCharacteristic[];
  derived: (SheetCharacteristic & { formula: FormulaId })[];
  gauges: { id: number; code: string; name: string; unit: string; calibrationDue: string | null }[];
};

/** What the form holds: text as it was typed, so that nothing a person entered is lost or rounded on the way. */
export const entryDraft = z.object({
  key: z.string().min(8),
  takenAt: z.string(),
  inspector: z.string(),
  note: z.string(),
  /** By characteristic: can by can, position by position. */
  cells: z.record(z.string(), z.array(z.string())),
  gauges: z.record(z.string(), z.number().int()),
});
export type EntryDraft = z.infer<typeof entryDraft>;

export const cellCount = (sheet: Sheet): number => sheet.cans.length * sheet.positions.length;

export function newDraft(sheet: Sheet, given: { key: string; takenAt: string; inspector: string; gauges: Record<string, number> }): EntryDraft {
  const known = new Set(sheet.gauges.map((gauge) => gauge.id));
  return {
    ...given, note: '',
    gauges: Object.fromEntries(Object.entries(given.gauges).filter(([, id]) => known.has(id))),
    cells: Object.fromEntries(sheet.measured.map(({ code }) => [code, Array<string>(cellCount(sheet)).fill('')])),
  };
}

/** Whether a draft that was kept still fits the sheet: a plan may have changed since. */
export const fits = (sheet: Sheet, draft: EntryDraft): boolean => sheet.measured.every(({ code }) => draft.cells[code]?.length === cellCount(sheet)) && Object.keys(draft.cells).length === sheet.measured.length;

export function withCell(draft: EntryDraft, code: string, place: number, text: string): EntryDraft {
  return { ...draft, cells: { ...draft.cells, [code]: (draft.cells[code] ?? []).map((old, index) => (index === place ? text : old)) } };
}

export const isUntouched = (draft: EntryDraft): boolean => draft.note === '' && Object.values(draft.cells).every((cells) => cells.every((text) => text.trim() === ''));

/** A number with decimal point or comma; null where nothing was typed; "unreadable" for anything else. */
export function readCell(text: string): number | null | 'unreadable' {
  const plain = text.trim().replace(',', '.');
  if (plain === '') return null;
  return /^[+-]?(\d+\.?\d*|\.\d+)$/.test(plain) ? Number(plain) : 'unreadable';
}

const readings = (draft: EntryDraft, code: string): (number | null)[] => (draft.cells[code] ?? []).map((text) => { const value = readCell(text); return value === 'unreadable' ? null : value; });

export type DraftProblem = { what: 'unreadable'; code: string; place: number } | { what: 'nothing' | 'taken-at' | 'inspector' };

/** What keeps the check from being sent; empty when it may go. Missing readings do not: a squashed can is a fact. */
export function draftProblems(sheet: Sheet, draft: EntryDraft): DraftProblem[] {
  const unreadable = sheet.measured.flatMap(({ code }) => (draft.cells[code] ?? []).flatMap((text, place): DraftProblem[] => (readCell(text) === 'unreadable' ? [{ what: 'unreadable', code, place }] : [])));
  const nothing = unreadable.length === 0 && sheet.measured.every(({ code }) => readings(draft, code).every((reading) => reading === null));
  return [
    ...unreadable, ...(nothing ? [{ what: 'nothing' as const }] : []),
    ...(Number.isNaN(new Date(draft.takenAt).getTime()) ? [{ what: 'taken-at' as const }] : []),
    ...(draft.inspector.trim() === '' ? [{ what: 'inspector' as const }] : []),
  ];
}

/** How many readings are in, of how many the sheet asks for. */
export function filled(sheet: Sheet, draft: EntryDraft): { done: number; of: number } {
  const done = sheet.measured.reduce((sum, { code }) => sum + readings(draft, code).filter((reading) => reading !== null).length, 0);
  return { done, of: sheet.measured.length * cellCount(sheet) };
}

/** The check as the server takes it. Characteristics without any reading are left out; the same draft always gives the same content. */
export function toNewCheck(sheet: Sheet, draft: EntryDraft, confirmed: boolean): NewCheck {
  return {
    key: draft.key, machineId: sheet.machine.id, productId: sheet.product.id, planId: sheet.plan.id, takenAt: draft.takenAt, inspector: draft.inspector.trim(), confirmed,
    cans: sheet.cans.map((can) => ({ number: can.number, ...(can.unitId === null ? {} : { unitId: can.unitId }), ...(can.laneId === null ? {} : { laneId: can.laneId }) })),
    positions: sheet.positions,
    characteristics: sheet.measured.flatMap(({ code }) => {
      const values = readings(draft, code);
      const gaugeId = draft.gauges[code];
      return values.every((value) => value === null) ? [] : [{ code, ...(gaugeId === undefined ? {} : { gaugeId }), readings: values }];
    }),
    ...(draft.note.trim() === '' ? {} : { note: draft.note.trim() }),
  };
}

export type CellQuestion = { code: string; place: number; expected: string };

/** Which cells a refusal is about: fields such as "characteristics.1.readings.7", by the characteristics that were sent. */
export function cellQuestions(check: NewCheck, errors: readonly FieldError[]): CellQuestion[] {
  return errors.flatMap(({ field, expected }) => {
    const match = /^characteristics\.(\d+)\.readings\.(\d+)$/.exec(field);
    const code = match ? check.characteristics[Number(match[1])]?.code : undefined;
    return match && code !== undefined ? [{ code, place: Number(match[2]), expected }] : [];
  });
}

/** Derived readings of what was typed so far: a preview, the server computes the record. */
export function derivedPreview(sheet: Sheet, draft: EntryDraft): Map<string, (number | null)[]> {
  const entered = new Map(sheet.measured.map(({ code }) => [code, readings(draft, code)]));
  return new Map(sheet.derived.map(({ code, formula }) => [code, Array.from({ length: cellCount(sheet) }, (_, place) => {
    const inputs = Object.fromEntries(formulas[formula].inputs.map((input) => [input, entered.get(input)?.[place] ?? null]));
    const answer = deriveReading(formula, inputs, sheet.product, sheet.product.overlapFactor);
    return answer && 'value' in answer ? answer.value : null;
  })]));
}

/** Readings of one can that can be read, for its mean and range. */
export function canReadings(sheet: Sheet, draft: EntryDraft, code: string, can: number): number[] {
  const width = sheet.positions.length;
  return readings(draft, code).slice(can * width, (can + 1) * width).filter((reading) => reading !== null);
}
