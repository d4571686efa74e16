import { placeInWindow } from '#canmaking/weld/tested-window';
import type { AnswerOf, InputOf } from '#contract/endpoint';
import { Problem } from '#contract/problem';
import type { listWeldPositions } from '#contract/weld-windows';
import { findCheckHeader } from '../inspections/check-page.store.js';
import { listWeldSettings, type WeldSetting } from '../inspections/weld-settings.store.js';
import type { Tx } from '../platform/work.js';
import { windowInForce } from '../specifications/weld-windows.js';
import { listSettingIds, listWindowVersions } from '../specifications/weld-windows.store.js';

/** More than that many in a span are not listed: every-minute records of a day would hide what the page is about. */
const MOST = 300;
type Position = AnswerOf<typeof listWeldPositions>['positions'][number];

/** Where the welding settings on record stand in the window that held when the cans were picked. Informs only. */
export async function weldPositions(tx: Tx, plantId: number, { check, machine, from, until }: InputOf<typeof listWeldPositions>['query']): Promise<AnswerOf<typeof listWeldPositions>> {
  if (check !== undefined && !(await findCheckHeader(tx, plantId, check))) throw new Problem('not-found', `There is no check ${check}.`);
  const span = machine === undefined || from === undefined || until === undefined ? null : { machineId: machine, from: new Date(from), until: new Date(until), most: MOST + 1 };
  const settings = await listSettingIds(tx, plantId);
  if (settings.length === 0) return { positions: [], more: false };
  const rows = await listWeldSettings(tx, plantId, settings, span ?? { checkId: check ?? 0 });
  const versions = await listWindowVersions(tx, plantId);
  const when = (row: WeldSetting): Position['when'] => (span === null || (row.takenAt >= span.from && row.takenAt <= span.until) ? 'in' : row.takenAt < span.from ? 'before' : 'after');
  const inside = rows.filter((row) => when(row) === 'in');
  const left = new Set(inside.slice(MOST));
  return { positions: rows.filter((row) => !left.has(row)).map((row) => positionOf(row, when(row), versions)), more: left.size > 0 };
}

function positionOf(row: WeldSetting, when: Position['when'], versions: Parameters<typeof windowInForce>[0]): Position {
  const held = windowInForce(versions, { ...row, at: row.takenAt });
  const coil = held !== null && row.coilAt !== null && row.coilAt > new Date(held.window.testedAt) ? { at: row.coilAt.toISOString(), text: row.coilText ?? '' } : null;
  const place = (value: number, window: NonNullable<typeof held>['window']) => ({ value, ...placeInWindow(value, window) });
  return {
    checkId: row.checkId, takenAt: row.takenAt.toISOString(), when, machine: row.machine, machineUnit: row.machineUnit, lane: row.lane,
    characteristic: { code: row.code, name: row.name, unit: row.unit, decimals: row.decimals }, n: row.n, lowest: row.low, highest: row.high,
    tested: held === null ? null : { window: held, lowest: place(row.low, held.window), highest: place(row.high, held.window) }, coilSince: coil,
  };
}
