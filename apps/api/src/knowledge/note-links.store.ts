import { findDefect } from '#canmaking/defects/taxonomy';
import { type NoteLink, type NoteReason, noteReason } from '#contract/knowledge';
import { Problem } from '#contract/problem';
import type { Tx } from '../platform/work.js';

export type LinkTarget = { signalId?: number; incidentId?: number };
export type StoredLink = { id: number; noteId: number; signalId: number | null; incidentId: number | null; confirmedBy: number | null; reason: string };

/**
 * Lets a note cite a signal or an incident (exactly one of them). With `confirmedBy` null it is only suggested; linking what
 * is suggested or was rejected confirms it, linking what is linked changes nothing. Answers the link's id.
 */
export async function linkNote(tx: Tx, plantId: number, link: LinkTarget & { noteId: number; confirmedBy: number | null; reason?: string; reasons?: readonly NoteReason[]; score?: number | null }): Promise<number> {
  await requireTarget(tx, plantId, link);
  const [row] = await tx.$queryRaw<{ id: number }[]>`
    INSERT INTO note_link (plant_id, note_id, signal_id, incident_id, score, reason, reasons, confirmed_by, confirmed_at)
    VALUES (${plantId}, ${link.noteId}, ${link.signalId ?? null}, ${link.incidentId ?? null}, ${link.score ?? null}, ${link.reason ?? ''}, ${JSON.stringify(link.reasons ?? [])}::jsonb, ${link.confirmedBy}, CASE WHEN ${link.confirmedBy}::int IS NULL THEN NULL ELSE now() END)
    ON CONFLICT (plant_id, note_id, signal_id, incident_id) DO UPDATE SET
      confirmed_by = coalesce(note_link.confirmed_by, excluded.confirmed_by), confirmed_at = coalesce(note_link.confirmed_at, excluded.confirmed_at),
      rejected_by = CASE WHEN excluded.confirmed_by IS NULL THEN note_link.rejected_by END, rejected_at = CASE WHEN excluded.confirmed_by IS NULL THEN note_link.rejected_at END
    RETURNING id`;
  return (row as { id: number }).id;
}

export async function findLink(tx: Tx, plantId: number, id: number): Promise<StoredLink> {
  const row = await tx.noteLink.findUnique({ where: { plantId_id: { plantId, id } }, select: { id: true, noteId: true, signalId: true, incidentId: true, confirmedBy: true, reason: true } });
  if (!row) throw new Problem('not-found', `There is no link ${id} of a note.`);
  return row;
}

export async function setLinkConfirmed(tx: Tx, plantId: number, id: number, userId: number): Promise<void> {
  await tx.$executeRaw`UPDATE note_link SET confirmed_by = ${userId}, confirmed_at = now(), rejected_by = NULL, rejected_at = NULL WHERE plant_id = ${plantId} AND id = ${id} AND confirmed_by IS NULL`;
}

/** Takes a link of people away; the caller's audit row keeps what it was. A suggestion stays, as rejected by `userId`. */
export async function unlinkNote(tx: Tx, plantId: number, id: number, userId: number): Promise<StoredLink> {
  const row = await findLink(tx, plantId, id);
  if (row.confirmedBy === null) await tx.$executeRaw`UPDATE note_link SET rejected_by = ${userId}, rejected_at = now() WHERE plant_id = ${plantId} AND id = ${id} AND rejected_by IS NULL`;
  else await tx.noteLink.delete({ where: { plantId_id: { plantId, id } } });
  return row;
}

/** Links of a note, a signal, some signals or an incident with what a screen shows: confirmed ones first, then the best suggestions. */
export async function listLinks(tx: Tx, plantId: number, of: LinkTarget & { noteId?: number; linkId?: number; signalIds?: readonly number[] }): Promise<NoteLink[]> {
  const rows = await tx.$queryRaw<{ id: number; note_id: number; title: string; fix: string; signal_id: number | null; incident_id: number | null; about: string | null; defect: string | null; customer: string | null; score: number | null; reason: string; reasons: unknown; by: string | null; confirmed_at: Date | null }[]>`
    SELECT k.id, k.note_id, n.title, n.fix, k.signal_id, k.incident_id, concat_ws(', ', c.name, m.code, u.code) AS about, i.defect, i.customer, k.score, k.reason, k.reasons, w.name AS by, k.confirmed_at
    FROM note_link k JOIN note n ON n.plant_id = k.plant_id AND n.id = k.note_id
    LEFT JOIN signal g ON g.plant_id = k.plant_id AND g.id = k.signal_id
    LEFT JOIN stream s ON s.plant_id = k.plant_id AND s.id = g.stream_id
    LEFT JOIN characteristic c ON c.plant_id = k.plant_id AND c.id = s.characteristic_id
    LEFT JOIN machine m ON m.plant_id = k.plant_id AND m.id = s.machine_id
    LEFT JOIN unit u ON u.plant_id = k.plant_id AND u.id = s.unit_id
    LEFT JOIN incident i ON i.plant_id = k.plant_id AND i.id = k.incident_id
    LEFT JOIN "user" w ON w.plant_id = k.plant_id AND w.id = k.confirmed_by
    WHERE k.plant_id = ${plantId} AND k.rejected_by IS NULL AND (${of.noteId ?? null}::int IS NULL OR k.note_id = ${of.noteId ?? null}) AND (${of.signalId ?? null}::int IS NULL OR k.signal_id = ${of.signalId ?? null})
      AND (${of.incidentId ?? null}::int IS NULL OR k.incident_id = ${of.incidentId ?? null}) AND (${of.linkId ?? null}::int IS NULL OR k.id = ${of.linkId ?? null}) AND (${of.signalIds ?? null}::int[] IS NULL OR k.signal_id = ANY(${of.signalIds ?? null}::int[]))
    ORDER BY (k.confirmed_by IS NULL), k.score DESC NULLS LAST, k.id LIMIT 500`;
  return rows.map((row) => ({
    id: row.id, noteId: row.note_id, noteTitle: row.title, noteFix: row.fix, signalId: row.signal_id, incidentId: row.incident_id,
    about: row.incident_id === null ? row.about ?? '' : `${findDefect(row.defect ?? '')?.name ?? row.defect ?? ''}, ${row.customer ?? ''}`,
    score: row.score, reason: row.reason, reasons: noteReason.array().parse(row.reasons), confirmedBy: row.by, confirmedAt: row.confirmed_at?.toISOString() ?? null,
  }));
}

async function requireTarget(tx: Tx, plantId: number, { noteId, signalId, incidentId }: LinkTarget & { noteId: number }): Promise<void> {
  if ((signalId === undefined) === (incidentId === undefined)) throw new Problem('invalid-input', undefined, [{ field: 'signalId', expected: 'either signalId or incidentId' }]);
  const [row] = await tx.$queryRaw<{ note: boolean; target: boolean }[]>`
    SELECT EXISTS (SELECT 1 FROM note WHERE plant_id = ${plantId} AND id = ${noteId}) AS note,
      EXISTS (SELECT 1 FROM signal WHERE plant_id = ${plantId} AND id = ${signalId ?? 0} UNION ALL SELECT 1 FROM incident WHERE plant_id = ${plantId} AND id = ${incidentId ?? 0}) AS target`;
  if (!row?.note) throw new Problem('not-found', `There is no note ${noteId}.`);
  if (!row.target) throw new Problem('not-found', signalId === undefined ? `There is no incident ${incidentId}.` : `There is no signal ${signalId}.`);
}

/** Closed incidents that cite the note. */
export async function countHelped(tx: Tx, plantId: number, noteId: number): Promise<number> {
  const [row] = await tx.$queryRaw<{ helped: number }[]>`
    SELECT count(*)::int AS helped FROM note_link k JOIN incident i ON i.plant_id = k.plant_id AND i.id = k.incident_id
    WHERE k.plant_id = ${plantId} AND k.note_id = ${noteId} AND k.confirmed_by IS NOT NULL AND i.state = 'closed'`;
  return row?.helped ?? 0;
}
