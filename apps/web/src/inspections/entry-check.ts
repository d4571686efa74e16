import type { NewCheck } from '#contract/inspections';
import type { FieldError } from '#contract/problem';
import { isPlausible, readCell } from './cell-typing.js';
import { cellKey, type EntryDraft, readCount, readingsOf, type Sheet } from './entry-draft.js';

/**
 * The check as the server takes it. Characteristics without any reading are left out; the same draft and moment always
 * give the same content. Times are this device's own: when it was begun, and when the person was done with it.
 */
export function toNewCheck(sheet: Sheet, draft: EntryDraft, confirmed: boolean, finishedAt: string): NewCheck {
  const values = new Map(sheet.measured.map(({ code }) => [code, readingsOf(sheet, draft, code)]));
  const present = sheet.measured.filter(({ code }) => values.get(code)?.some((value) => value !== null));
  const counts = sheet.counted.flatMap(({ code }) => { const count = readCount(draft.counts[code]); return count === null || count === 'wrong' ? [] : [{ code, ...count }]; });
  const ratings = present.filter(({ rating }) => rating).map(({ code }) => ({ code, ratings: values.get(code) ?? [] }));
  const skips = skipsOf(sheet, draft);
  const second = secondOf(sheet, draft);
  return {
    key: draft.key, machineId: sheet.machine.id, productId: sheet.product.id, planId: sheet.plan.id, takenAt: draft.takenAt, inspector: draft.inspector.trim(), confirmed,
    cans: sheet.cans.map((can) => ({ number: can.number, ...(can.unitId === null ? {} : { unitId: can.unitId }), ...(can.laneId === null ? {} : { laneId: can.laneId }) })),
    positions: sheet.positions,
    characteristics: present.filter(({ rating }) => !rating).map(({ code }) => {
      const gaugeId = draft.gauges[code];
      return { code, ...(gaugeId === undefined ? {} : { gaugeId }), readings: values.get(code) ?? [] };
    }),
    ...(draft.note.trim() === '' ? {} : { note: draft.note.trim() }),
    ...deviceTimes(draft, finishedAt), ...(draft.offline ? { offline: true } : {}),
    ...(counts.length === 0 ? {} : { counts }), ...(ratings.length === 0 ? {} : { ratings }), ...(skips.length === 0 ? {} : { skips }), ...(second.length === 0 ? {} : { secondReadings: second }),
  };
}

/** A clock that was set back in between says nothing that could be kept. */
function deviceTimes({ begunAt }: EntryDraft, finishedAt: string): { begunAt?: string; finishedAt?: string } {
  return Number.isNaN(new Date(begunAt).getTime()) || new Date(begunAt) > new Date(finishedAt) ? {} : { begunAt, finishedAt };
}

/** One entry for a can that is left out as a whole for one reason, else one a cell. */
function skipsOf(sheet: Sheet, draft: EntryDraft): NonNullable<NewCheck['skips']> {
  const width = sheet.positions.length;
  return sheet.cans.flatMap((_can, can): NonNullable<NewCheck['skips']> => {
    const cells = sheet.measured.flatMap(({ code }) => sheet.positions.map((_position, position) => ({ can, characteristic: code, position, reason: draft.skips[cellKey(code, can * width + position)] })));
    const [first] = cells;
    if (first?.reason !== undefined && cells.every(({ reason }) => reason === first.reason)) return [{ can, characteristic: null, position: null, reason: first.reason }];
    return cells.flatMap(({ reason, ...cell }) => (reason === undefined ? [] : [{ ...cell, reason }]));
  });
}

function secondOf(sheet: Sheet, draft: EntryDraft): NonNullable<NewCheck['secondReadings']> {
  const width = sheet.positions.length;
  return sheet.measured.flatMap((entry) => (draft.cells[entry.code] ?? []).flatMap((first, place) => {
    const value = readCell(draft.second[cellKey(entry.code, place)] ?? '', entry);
    return typeof value === 'number' && typeof readCell(first, entry) === 'number' ? [{ characteristic: entry.code, can: Math.floor(place / width), position: place % width, value }] : [];
  }));
}

/** A reading that is asked about: what the server expects in its words, or what this device expects by the plausible range. */
export type CellQuestion = { code: string; place: number; expected: string | { low: number | null; high: number | null } };

/** Readings outside what the can or the gauge allows, asked about before anything is sent, so also without the network. */
export function implausibleCells(sheet: Sheet, draft: EntryDraft): CellQuestion[] {
  return sheet.measured.filter(({ rating }) => !rating).flatMap((entry) => readingsOf(sheet, draft, entry.code).flatMap((value, place) => (value === null || isPlausible(value, entry) ? [] : [{ code: entry.code, place, expected: { low: entry.low, high: entry.high } }])));
}

/** Which cells a refusal is about: fields such as "characteristics.1.readings.7", by the characteristics that were sent. */
export function cellQuestions(check: NewCheck, errors: readonly FieldError[]): CellQuestion[] {
  return errors.flatMap(({ field, expected }) => {
    const match = /^characteristics\.(\d+)\.readings\.(\d+)$/.exec(field);
    const code = match ? check.characteristics[Number(match[1])]?.code : undefined;
    return match && code !== undefined ? [{ code, place: Number(match[2]), expected }] : [];
  });
}
