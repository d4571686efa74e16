import { z } from 'zod';
import { type LegalHold, retentionAct, type RetentionRule, type RetentionView } from '#contract/retention';
import { recordKind } from '#contract/records';
import { Prisma } from '../platform/generated/client.js';
import type { Tx } from '../platform/work.js';

/** Legal hold `h` covers check `c`: all that the hold gives fits. An incident means its line from a week before to a week after. */
const covers = Prisma.sql`
  (h.customer IS NULL OR EXISTS (SELECT 1 FROM product p WHERE p.plant_id = c.plant_id AND p.id = c.product_id AND p.customer = h.customer))
  AND (h.product_id IS NULL OR c.product_id = h.product_id) AND (h.from_at IS NULL OR c.taken_at >= h.from_at) AND (h.until_at IS NULL OR c.taken_at < h.until_at)
  AND (h.incident_id IS NULL OR EXISTS (SELECT 1 FROM incident i JOIN step s ON s.plant_id = i.plant_id AND s.line_id = i.line_id JOIN machine m ON m.plant_id = s.plant_id AND m.step_id = s.id
    WHERE i.plant_id = h.plant_id AND i.id = h.incident_id AND m.id = c.machine_id AND c.taken_at >= i.made_at - interval '7 days' AND c.taken_at < coalesce(i.made_until, i.made_at) + interval '7 days'))`;
const isHeld = Prisma.sql`EXISTS (SELECT 1 FROM legal_hold h WHERE h.plant_id = c.plant_id AND h.lifted_at IS NULL AND ${covers})`;

export async function listRules(tx: Tx, plantId: number): Promise<RetentionRule[]> {
  const rows = await tx.retentionRule.findMany({ where: { plantId }, orderBy: [{ kind: 'asc' }, { version: 'desc' }] });
  return rows.map(({ kind, version, years, source, reason, author, at }) => ({ kind: recordKind.parse(kind), version, years, source, reason, author, at: at.toISOString() }));
}

export async function insertRule(tx: Tx, plantId: number, rule: Omit<RetentionRule, 'version' | 'at'> & { authorId: number; at: Date }): Promise<RetentionRule> {
  const last = await tx.retentionRule.findFirst({ where: { plantId, kind: rule.kind }, orderBy: { version: 'desc' } });
  const version = (last?.version ?? 0) + 1;
  await tx.retentionRule.create({ data: { plantId, ...rule, version } });
  return { kind: rule.kind, version, years: rule.years, source: rule.source, reason: rule.reason, author: rule.author, at: rule.at.toISOString() };
}

export async function listLegalHolds(tx: Tx, plantId: number): Promise<LegalHold[]> {
  const rows = await tx.legalHold.findMany({ where: { plantId }, orderBy: [{ liftedAt: { sort: 'asc', nulls: 'first' } }, { id: 'desc' }], take: 500 });
  const counts = await tx.$queryRaw<{ id: number; checks: number }[]>`
    SELECT h.id, (SELECT count(*)::int FROM "check" c WHERE c.plant_id = h.plant_id AND ${covers}) AS checks FROM legal_hold h WHERE h.plant_id = ${plantId} AND h.id = ANY(${rows.map(({ id }) => id)}::int[])`;
  const checksOf = new Map(counts.map(({ id, checks }) => [id, checks]));
  return rows.map((row) => ({
    id: row.id, name: row.name, customer: row.customer, productId: row.productId, incidentId: row.incidentId, from: row.fromAt?.toISOString() ?? null, until: row.untilAt?.toISOString() ?? null, reason: row.reason,
    placedBy: row.placedBy, placedAt: row.placedAt.toISOString(), checks: checksOf.get(row.id) ?? 0,
    lifted: row.liftedAt && row.liftedBy !== null && row.liftReason !== null ? { by: row.liftedBy, at: row.liftedAt.toISOString(), reason: row.liftReason } : null,
  }));
}

export async function insertLegalHold(tx: Tx, plantId: number, hold: { name: string; customer: string | null; productId: number | null; incidentId: number | null; fromAt: Date | null; untilAt: Date | null; reason: string; placedBy: string; placedAt: Date }): Promise<number> {
  return (await tx.legalHold.create({ data: { plantId, ...hold }, select: { id: true } })).id;
}

/** Which of what a hold names is not there. */
export async function missingOf(tx: Tx, plantId: number, hold: { customer: string | null; productId: number | null; incidentId: number | null }): Promise<('customer' | 'productId' | 'incidentId')[]> {
  const [row] = await tx.$queryRaw<{ customer: boolean; product: boolean; incident: boolean }[]>`
    SELECT ${hold.customer}::text IS NULL OR EXISTS (SELECT 1 FROM product WHERE plant_id = ${plantId} AND customer = ${hold.customer}) AS customer,
      ${hold.productId}::int IS NULL OR EXISTS (SELECT 1 FROM product WHERE plant_id = ${plantId} AND id = ${hold.productId}::int) AS product,
      ${hold.incidentId}::int IS NULL OR EXISTS (SELECT 1 FROM incident WHERE plant_id = ${plantId} AND id = ${hold.incidentId}::int) AS incident`;
  return [...(row?.customer ? [] : ['customer' as const]), ...(row?.product ? [] : ['productId' as const]), ...(row?.incident ? [] : ['incidentId' as const])];
}

/** Lifts a hold that is not lifted yet; answers "gone", "lifted" or "was-lifted". */
export async function setLifted(tx: Tx, plantId: number, id: number, lifted: { by: string; at: Date; reason: string }): Promise<'gone' | 'lifted' | 'was-lifted'> {
  const changed = await tx.legalHold.updateMany({ where: { plantId, id, liftedAt: null }, data: { liftedBy: lifted.by, liftedAt: lifted.at, liftReason: lifted.reason } });
  if (changed.count > 0) return 'lifted';
  return (await tx.legalHold.count({ where: { plantId, id } })) > 0 ? 'was-lifted' : 'gone';
}

/** No legal hold can be placed or lifted until the transaction ends. */
export async function freezeLegalHolds(tx: Tx): Promise<void> {
  await tx.$executeRaw`LOCK TABLE legal_hold IN SHARE MODE`;
}

const found = z.object({ checks: z.number(), kept: z.number(), oldest: z.date().nullable(), newest: z.date().nullable() });
/** How many checks were taken before a moment and are not held, and how many are. */
export async function countPast(tx: Tx, plantId: number, takenBefore: Date): Promise<z.infer<typeof found>> {
  const [row] = await tx.$queryRaw`
    SELECT (count(*) FILTER (WHERE NOT held))::int AS checks, (count(*) FILTER (WHERE held))::int AS kept, min(taken_at) FILTER (WHERE NOT held) AS oldest, max(taken_at) FILTER (WHERE NOT held) AS newest
    FROM (SELECT c.taken_at, ${isHeld} AS held FROM "check" c WHERE c.plant_id = ${plantId} AND c.taken_at < ${takenBefore}) c` as unknown[];
  return found.parse(row);
}

/** Checks that may go, the oldest first. */
export async function listPast(tx: Tx, plantId: number, takenBefore: Date, most: number): Promise<number[]> {
  const rows = await tx.$queryRaw<{ id: number }[]>`SELECT c.id FROM "check" c WHERE c.plant_id = ${plantId} AND c.taken_at < ${takenBefore} AND NOT ${isHeld} ORDER BY c.taken_at, c.id LIMIT ${most}`;
  return rows.map(({ id }) => id);
}

type Act = RetentionView['acts'][number];
const actKind = retentionAct.shape.kind;
export async function listActs(tx: Tx, plantId: number): Promise<Act[]> {
  const rows = await tx.retentionAct.findMany({ where: { plantId }, orderBy: { id: 'desc' }, take: 200 });
  return rows.map(({ id, at, actor, takenBefore, checks, subgroups, kind, records, hash, reason }) => ({ id, at: at.toISOString(), actor, takenBefore: takenBefore.toISOString(), checks, subgroups, kind: actKind.parse(kind), records, hash, reason }));
}

/** The act and the checks that it names: only then the triggers let their readings go. */
export async function insertAct(tx: Tx, plantId: number, act: { at: Date; actor: string; userId: number; takenBefore: Date; checks: number; subgroups: number; kind: Act['kind']; records: number; hash: string; reason: string }, checkIds: readonly number[]): Promise<Act> {
  const { id } = await tx.retentionAct.create({ data: { plantId, ...act }, select: { id: true } });
  await tx.retentionDeletion.createMany({ data: checkIds.map((checkId) => ({ plantId, checkId, actId: id })) });
  const { userId: _user, ...shown } = act;
  return { id, ...shown, at: act.at.toISOString(), takenBefore: act.takenBefore.toISOString() };
}
