import type { Delivery, Webhook } from '#contract/outgoing';
import type { Tx } from '../platform/work.js';

type Row = { id: number; name: string; url: string; kinds: string[]; allowInternal: boolean; active: boolean; madeAt: Date; waiting: number; failed: number; lastDeliveredAt: Date | null };

export async function listWebhookViews(tx: Tx, plantId: number, id?: number): Promise<Webhook[]> {
  const rows = await tx.$queryRaw<Row[]>`
    SELECT w.id, w.name, w.url, w.kinds, w.allow_internal AS "allowInternal", w.active, w.made_at AS "madeAt",
      count(d.id) FILTER (WHERE d.state = 'waiting')::int AS waiting, count(d.id) FILTER (WHERE d.state = 'failed')::int AS failed, max(d.delivered_at) AS "lastDeliveredAt"
    FROM webhook w LEFT JOIN webhook_delivery d ON d.plant_id = w.plant_id AND d.webhook_id = w.id
    WHERE w.plant_id = ${plantId} AND w.removed_at IS NULL AND (${id ?? null}::int IS NULL OR w.id = ${id ?? null}) GROUP BY w.plant_id, w.id ORDER BY w.name, w.id`;
  return rows.map((row) => ({ ...row, madeAt: row.madeAt.toISOString(), lastDeliveredAt: row.lastDeliveredAt?.toISOString() ?? null }));
}

export type Given = { name: string; url: string; kinds: string[]; allowInternal: boolean };
export async function insertWebhook(tx: Tx, plantId: number, made: Given & { secret: string; madeBy: number; madeAt: Date }): Promise<number> {
  return (await tx.webhook.create({ data: { plantId, ...made }, select: { id: true } })).id;
}
export async function updateWebhook(tx: Tx, plantId: number, id: number, change: Partial<Given & { active: boolean; removedAt: Date }>): Promise<boolean> {
  return (await tx.webhook.updateMany({ where: { plantId, id, removedAt: null }, data: change })).count > 0;
}

/** One row for each webhook that wants the kind (or the one that is named); what is there stays. Answers the new ids. */
export async function insertDeliveries(tx: Tx, plantId: number, event: { key: string; kind: string; body: string; webhookId?: number }, now: Date): Promise<number[]> {
  const only = event.webhookId ?? null;
  const rows = await tx.$queryRaw<{ id: number }[]>`
    INSERT INTO webhook_delivery (plant_id, webhook_id, event_key, kind, body, made_at)
    SELECT w.plant_id, w.id, ${event.key}, ${event.kind}, ${event.body}, ${now} FROM webhook w
    WHERE w.plant_id = ${plantId} AND w.removed_at IS NULL AND ((${only}::int IS NULL AND w.active AND ${event.kind} = ANY (w.kinds)) OR w.id = ${only}::int)
    ON CONFLICT DO NOTHING RETURNING id`;
  return rows.map(({ id }) => id);
}

export function findDelivery(tx: Tx, plantId: number, id: number) {
  return tx.webhookDelivery.findUnique({ where: { plantId_id: { plantId, id } }, include: { webhook: true } });
}

type Change = { state?: string; attempts?: number; lastStatus?: number | null; lastAnswer?: string | null; lastError?: string | null; attemptedAt?: Date; deliveredAt?: Date };
/** Changes the delivery if it is in one of the states; false where it is not. */
export async function updateDelivery(tx: Tx, plantId: number, id: number, from: readonly string[], change: Change): Promise<boolean> {
  return (await tx.webhookDelivery.updateMany({ where: { plantId, id, state: { in: [...from] } }, data: change })).count > 0;
}

export async function listDeliveryViews(tx: Tx, plantId: number, before: number | undefined, take: number): Promise<Delivery[]> {
  const rows = await tx.webhookDelivery.findMany({ where: { plantId, ...(before ? { id: { lt: before } } : {}) }, include: { webhook: { select: { name: true } } }, orderBy: { id: 'desc' }, take });
  return rows.map(({ id, webhookId, webhook, kind, state, attempts, lastStatus, lastAnswer, lastError, madeAt, attemptedAt, deliveredAt }) => ({
    id, webhookId, webhook: webhook.name, kind, state: state as Delivery['state'], attempts, lastStatus, lastAnswer, lastError,
    madeAt: madeAt.toISOString(), attemptedAt: attemptedAt?.toISOString() ?? null, deliveredAt: deliveredAt?.toISOString() ?? null,
  }));
}

export async function plantName(tx: Tx, plantId: number): Promise<string> {
  return (await tx.plant.findUniqueOrThrow({ where: { id: plantId }, select: { name: true } })).name;
}
