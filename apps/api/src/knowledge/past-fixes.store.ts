import { findDefect } from '#canmaking/defects/taxonomy';
import type { Tx } from '../platform/work.js';
import { keyOf, type PastFix, type Standing } from './past-fix.js';

/** Notes and incidents are indexed together in parts of this many ids. */
const IDS_A_SEGMENT = 500;
export type SegmentStamp = { segment: number; stamp: string };

/** What stands in the texts of the index but has no revision of its own: codes and names of machines, products and lines. */
export async function findNames(tx: Tx, plantId: number): Promise<string> {
  const [row] = await tx.$queryRaw<{ names: string | null }[]>`
    SELECT md5(string_agg(kind || id || ' ' || code || ' ' || name, ',' ORDER BY kind, id)) AS names
    FROM (SELECT 'm' AS kind, id, code, name FROM machine WHERE plant_id = ${plantId} UNION ALL SELECT 'p', id, code, name FROM product WHERE plant_id = ${plantId} UNION ALL SELECT 'l', id, code, name FROM line WHERE plant_id = ${plantId}) AS named`;
  return row?.names ?? '';
}

/** What people said of each note, and what it helped to close. */
export async function listStandings(tx: Tx, plantId: number): Promise<Map<string, Standing>> {
  const rows = await tx.$queryRaw<{ id: number; confirmed: number; helped: number }[]>`
    SELECT k.note_id AS id, count(*)::int AS confirmed, count(i.id)::int AS helped
    FROM note_link k LEFT JOIN incident i ON i.plant_id = k.plant_id AND i.id = k.incident_id AND i.state = 'closed'
    WHERE k.plant_id = ${plantId} AND k.confirmed_by IS NOT NULL GROUP BY k.note_id`;
  return new Map(rows.map(({ id, confirmed, helped }) => [keyOf({ kind: 'note', id }), { confirmed, helped }]));
}

/** What tells an index that is old from one that is not, whichever process made the change: count, revisions, newest change. */
export async function listSegmentStamps(tx: Tx, plantId: number): Promise<SegmentStamp[]> {
  return tx.$queryRaw<SegmentStamp[]>`
    SELECT id / ${IDS_A_SEGMENT}::int AS segment, count(*) || ' ' || sum(revision) || ' ' || max(changed_at) AS stamp
    FROM (SELECT id, revision, changed_at FROM note WHERE plant_id = ${plantId} UNION ALL SELECT id, revision, changed_at FROM incident WHERE plant_id = ${plantId}
      UNION ALL SELECT incident_id, signal_id, linked_at FROM incident_signal WHERE plant_id = ${plantId}) AS known
    GROUP BY 1 ORDER BY 1`;
}

type Row = { kind: 'note' | 'incident'; id: number; title: string | null; symptom: string; place: string; cause: string; how_to_check: string; fix: string; verified: string; defect: string; step_kind: string | null; machine: string | null; machine_name: string | null; customer: string | null; about: string; state: string | null; changed_at: Date; revision: string };

/** An incident stands at the machine of its linked signals, where that is one; it speaks of all of them. `revision` tells two readings of a row apart. */
export async function listPastFixes(tx: Tx, plantId: number, segment: number): Promise<(PastFix & { revision: string })[]> {
  const [from, to] = [segment * IDS_A_SEGMENT, (segment + 1) * IDS_A_SEGMENT];
  const rows = await tx.$queryRaw<Row[]>`
    SELECT 'note' AS kind, n.id, n.title, n.symptom, n.place, n.cause, n.how_to_check, n.fix, n.verified, n.defect, n.step_kind, m.code AS machine, m.name AS machine_name,
      NULL AS customer, concat_ws(' ', replace(n.step_kind, '-', ' '), m.code, m.name) AS about, NULL AS state, n.changed_at, n.revision::text AS revision
    FROM note n LEFT JOIN machine m ON m.plant_id = n.plant_id AND m.id = n.machine_id
    WHERE n.plant_id = ${plantId} AND n.id >= ${from} AND n.id < ${to}
    UNION ALL
    SELECT 'incident', i.id, NULL, i.description, i.leak_place, i.cause, i.containment, i.action, i.closing_note, i.defect, CASE WHEN linked.machines = 1 THEN linked.step_kind END, CASE WHEN linked.machines = 1 THEN linked.code END, NULL,
      i.customer, concat_ws(' ', i.customer, p.code, p.name, l.code, l.name, i.can_code, linked.names), i.state, i.changed_at, i.revision || ' ' || linked.links
    FROM incident i JOIN product p ON p.plant_id = i.plant_id AND p.id = i.product_id JOIN line l ON l.plant_id = i.plant_id AND l.id = i.line_id
    CROSS JOIN LATERAL (
      SELECT count(DISTINCT m.id)::int AS machines, min(m.code) AS code, min(t.kind) AS step_kind, string_agg(DISTINCT m.code || ' ' || m.name || ' ' || c.name, ' ') AS names, coalesce(string_agg(k.signal_id::text, ' ' ORDER BY k.signal_id), '') AS links
      FROM incident_signal k JOIN signal g ON g.plant_id = k.plant_id AND g.id = k.signal_id JOIN stream s ON s.plant_id = g.plant_id AND s.id = g.stream_id
      JOIN characteristic c ON c.plant_id = s.plant_id AND c.id = s.characteristic_id JOIN machine m ON m.plant_id = s.plant_id AND m.id = s.machine_id JOIN step t ON t.plant_id = m.plant_id AND t.id = m.step_id
      WHERE k.plant_id = i.plant_id AND k.incident_id = i.id) AS linked
    WHERE i.plant_id = ${plantId} AND i.id >= ${from} AND i.id < ${to}`;
  return rows.map((row) => {
    const defectName = findDefect(row.defect)?.name ?? row.defect;
    return {
      kind: row.kind, id: row.id, defect: row.defect, defectName, stepKind: row.step_kind, machine: row.machine, customer: row.customer, state: row.state, changedAt: row.changed_at, revision: row.revision,
      texts: { title: row.title ?? defectName, symptom: row.symptom, place: row.place, cause: row.cause, howToCheck: row.how_to_check, fix: row.fix, verified: row.verified, about: `${defectName} ${row.about}` },
    };
  });
}
