import { z } from 'zod';
import { type EntryDraft, entryDraft, fits, type Sheet } from './entry-draft.js';
import { withUnits } from './sheet-units.js';

// The browser's own store: an entry outlives a reload, a crash and a lost network. One a person, machine and plan.
const draftName = (personId: number, sheet: Sheet) => `seamledger.draft.${personId}.${sheet.machine.id}.${sheet.plan.id}`;
const gaugesName = (sheet: Sheet) => `seamledger.gauges.${sheet.machine.id}`;

/** The entry that was kept, if it still fits what the plan asks for of its units. */
export function loadDraft(personId: number, sheet: Sheet): EntryDraft | null {
  const kept = read(draftName(personId, sheet), entryDraft);
  return kept && fits(withUnits(sheet, kept.units), kept) ? kept : null;
}

export function keepDraft(personId: number, sheet: Sheet, draft: EntryDraft | null): void {
  write(draftName(personId, sheet), draft);
}

/** The keys of all entries of a person that are kept here. */
export function draftKeys(personId: number): string[] {
  try {
    return Object.keys(localStorage).filter((name) => name.startsWith(`seamledger.draft.${personId}.`)).flatMap((name) => read(name, entryDraft)?.key ?? []);
  } catch {
    return [];
  }
}

/** The gauges used last on this machine, by characteristic. */
export const loadGauges = (sheet: Sheet): Record<string, number> => read(gaugesName(sheet), entryDraft.shape.gauges) ?? {};
export const keepGauges = (sheet: Sheet, gauges: Record<string, number>): void => write(gaugesName(sheet), { ...loadGauges(sheet), ...gauges });

function read<Shape extends z.ZodType>(name: string, shape: Shape): z.output<Shape> | null {
  try {
    const text = localStorage.getItem(name);
    const parsed = shape.safeParse(text === null ? null : JSON.parse(text));
    return parsed.success ? parsed.data : null;
  } catch {
    return null; // Storage that is switched off or broken only costs the convenience.
  }
}

function write(name: string, value: unknown): void {
  try {
    if (value === null) localStorage.removeItem(name);
    else localStorage.setItem(name, JSON.stringify(value));
  } catch { /* As above: full or switched off. */ }
}
