import { shiftAt } from '#canmaking/line/shifts';
import type { Surrounding, SurroundingsAnswer } from '#contract/incidents';
import { Problem } from '#contract/problem';
import type { Tx } from '../platform/work.js';
import { listIncidentRows } from './incident-rows.store.js';
import { findShifts, listSurroundings } from './surroundings.store.js';

const HOUR = 3_600_000;
const MOST = 3000;
export type Hours = { before: number; after: number };
/** Cans of a line about which is asked; `incidentId` says which signals are linked. */
export type CansAt = { lineId: number; madeAt: string; incidentId: number | null };

/** The cans of an incident. */
export async function cansOfIncident(tx: Tx, plantId: number, incidentId: number): Promise<CansAt> {
  const [incident] = await listIncidentRows(tx, plantId, { take: 1, skip: 0 }, incidentId);
  if (!incident) throw new Problem('not-found', `There is no incident ${incidentId}.`);
  return { lineId: incident.lineId, madeAt: incident.madeAt, incidentId };
}

export const hoursAround = ({ madeAt }: CansAt, { before, after }: Hours): { from: Date; to: Date } => ({ from: new Date(Date.parse(madeAt) - before * HOUR), to: new Date(Date.parse(madeAt) + after * HOUR) });

/** What the plant has on record of the line from `before` hours before the cans were made to `after` hours after it, the missed checks among it. */
export async function surroundingsOf(tx: Tx, plantId: number, cans: CansAt, hours: Hours, missed: readonly Surrounding[]): Promise<SurroundingsAnswer> {
  const span = hoursAround(cans, hours);
  const shifts = await findShifts(tx, plantId);
  const entries = [...(await listSurroundings(tx, plantId, cans.incidentId ?? 0, cans.lineId, span)), ...missed].sort((a, b) => Date.parse(a.at) - Date.parse(b.at))
    .map((entry) => ({ ...entry, shift: shiftAt(shifts.shifts, Date.parse(entry.at), shifts.timeZone) }));
  return { from: span.from.toISOString(), to: span.to.toISOString(), madeAt: cans.madeAt, entries: entries.slice(0, MOST), leftOut: Math.max(0, entries.length - MOST) };
}
