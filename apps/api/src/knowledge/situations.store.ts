import { findDefect } from '#canmaking/defects/taxonomy';
import type { Tx } from '../platform/work.js';
import type { Feedback, Situation } from './suggest.js';

// What people write of a value that rose or fell, at once or little by little.
const ABOVE = 'up wide long high thick grows rises';
const BELOW = 'down narrow short low thin falls loses';
const SLOWLY: ReadonlySet<string> = new Set(['four-of-five', 'eight-in-a-row', 'nine-in-a-row', 'six-in-a-trend']);

// Places that few notes speak of; "end" or "body" would fit nearly all.
const NARROW: ReadonlySet<string> = new Set(['juncture', 'side seam', 'flange']);

export type KnownSituation = { situation: Situation; feedback: Feedback };

/** Null when the signal is gone. The neighbours of a head, spindle or lane are asked for signals of the same side within a day. */
export async function signalSituation(tx: Tx, plantId: number, signalId: number): Promise<KnownSituation | null> {
  const [row] = await tx.$queryRaw<{ name: string; characteristicId: number; side: string; rule: string; step: string; machine: string; unit: boolean; chart: string; others: number; signalled: number }[]>`
    SELECT c.name, c.id AS "characteristicId", g.side, g.rule, t.kind AS step, m.code AS machine, s.unit_id IS NOT NULL AS unit, g.chart,
      (SELECT count(DISTINCT o.unit_id)::int FROM stream o WHERE o.plant_id = s.plant_id AND o.machine_id = s.machine_id AND o.characteristic_id = s.characteristic_id AND o.product_id = s.product_id AND o.unit_id <> s.unit_id) AS others,
      (SELECT count(DISTINCT o.unit_id)::int FROM stream o JOIN signal h ON h.plant_id = o.plant_id AND h.stream_id = o.id
        WHERE o.plant_id = s.plant_id AND o.machine_id = s.machine_id AND o.characteristic_id = s.characteristic_id AND o.product_id = s.product_id AND o.unit_id <> s.unit_id
          AND h.side = g.side AND h.fired_at BETWEEN g.fired_at - interval '1 day' AND g.fired_at + interval '1 day') AS signalled
    FROM signal g JOIN stream s ON s.plant_id = g.plant_id AND s.id = g.stream_id JOIN characteristic c ON c.plant_id = s.plant_id AND c.id = s.characteristic_id
    JOIN machine m ON m.plant_id = s.plant_id AND m.id = s.machine_id JOIN step t ON t.plant_id = m.plant_id AND t.id = m.step_id
    WHERE g.plant_id = ${plantId} AND g.id = ${signalId}`;
  if (!row) return null;
  const direction = row.chart === 'spread' ? 'range spread scatter' : row.side === 'above' ? ABOVE : BELOW;
  const units = !row.unit || row.others === 0 ? null : row.signalled * 2 >= row.others ? 'all' as const : 'one' as const;
  const feedback = await signalFeedback(tx, plantId, row.characteristicId, row.side);
  return { feedback, situation: { words: `${row.name} ${row.step.replaceAll('-', ' ')} ${direction}${SLOWLY.has(row.rule) ? ' slowly drift' : ''}`, stepKinds: [row.step], machine: row.machine, defect: null, place: null, units } };
}

export async function incidentSituation(tx: Tx, plantId: number, incidentId: number): Promise<KnownSituation | null> {
  const row = await tx.incident.findUnique({ where: { plantId_id: { plantId, id: incidentId } }, select: { defect: true, leakPlace: true, description: true } });
  if (!row) return null;
  const defect = findDefect(row.defect);
  const rows = await tx.$queryRaw<Judged[]>`
    SELECT k.note_id AS "noteId", count(k.confirmed_by)::int AS confirmed, count(k.rejected_by)::int AS rejected
    FROM note_link k JOIN incident i ON i.plant_id = k.plant_id AND i.id = k.incident_id
    WHERE k.plant_id = ${plantId} AND i.defect = ${row.defect} AND i.id <> ${incidentId} GROUP BY k.note_id`;
  return {
    feedback: feedbackOf(rows),
    situation: { words: `${defect?.name ?? ''} ${row.leakPlace} ${row.description}`, stepKinds: defect?.upstreamSteps ?? [], machine: null, defect: row.defect, place: NARROW.has(row.leakPlace) ? row.leakPlace : null },
  };
}

type Judged = { noteId: number; confirmed: number; rejected: number };
const feedbackOf = (rows: readonly Judged[]): Feedback => new Map(rows.map(({ noteId, confirmed, rejected }) => [noteId, { confirmed, rejected }]));

/** What people said of notes for signals of the same characteristic on the same side. */
async function signalFeedback(tx: Tx, plantId: number, characteristicId: number, side: string): Promise<Feedback> {
  return feedbackOf(await tx.$queryRaw<Judged[]>`
    SELECT k.note_id AS "noteId", count(k.confirmed_by)::int AS confirmed, count(k.rejected_by)::int AS rejected
    FROM note_link k JOIN signal g ON g.plant_id = k.plant_id AND g.id = k.signal_id JOIN stream s ON s.plant_id = g.plant_id AND s.id = g.stream_id
    WHERE k.plant_id = ${plantId} AND s.characteristic_id = ${characteristicId} AND g.side = ${side} GROUP BY k.note_id`);
}
