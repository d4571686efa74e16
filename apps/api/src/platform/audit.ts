import type { Tx } from './work.js';

/** Who did it: a person with a session, or a named part of the program (`userId` null). */
export type Actor = { plantId: number; userId: number | null; name: string };

/** Writes one append-only audit row in the caller's transaction: what was done to which subject ("check 12"), with old and new value. */
export async function record(tx: Tx, actor: Actor, action: string, subject: string, values: { before?: unknown; after?: unknown } = {}): Promise<void> {
  const json = (value: unknown) => (value === undefined ? null : JSON.stringify(value));
  await tx.$executeRaw`
    /* named: audit */ INSERT INTO audit_row (plant_id, user_id, actor, action, subject, before, after)
    VALUES (${actor.plantId}, ${actor.userId}, ${actor.name}, ${action}, ${subject}, ${json(values.before)}::jsonb, ${json(values.after)}::jsonb)`;
}

export type AuditEntry = { id: string; at: Date; actor: string; action: string; subject: string; before: unknown; after: unknown };

/** The newest rows first, of one subject or of the whole plant. */
export async function listAudit(tx: Tx, plantId: number, filter: { subject?: string; take: number; beforeId?: string }): Promise<AuditEntry[]> {
  const rows = await tx.auditRow.findMany({
    where: { plantId, subject: filter.subject, ...(filter.beforeId ? { id: { lt: BigInt(filter.beforeId) } } : {}) },
    orderBy: { id: 'desc' }, take: filter.take,
  });
  return rows.map((row) => ({ id: row.id.toString(), at: row.at, actor: row.actor, action: row.action, subject: row.subject, before: withoutSeals(row.before), after: withoutSeals(row.after) }));
}

/** Seals are for the verification, hundreds in the row of an import: the list leaves them out. */
function withoutSeals(values: unknown): unknown {
  if (typeof values !== 'object' || values === null || !('seals' in values)) return values;
  const { seals: _seals, ...shown } = values;
  return Object.keys(shown).length === 0 ? null : shown;
}
