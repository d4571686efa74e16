import type { Delivery, Webhook } from '#contract/outgoing';
import type { Withheld } from '#contract/told-hours';
import type { Tx } from '../platform/work.js';
import type { Span, ToldHours } from './told-hours.js';
import { HOURS, type HoursRow, hoursOfRow, rowOfHours } from './told-hours.store.js';

type Row = HoursRow & { id: number; name: string; url: string; kinds: string[]; allowInternal: boolean; active: boolean; madeAt: Date; waiting: number; held: number; failed: number; lastDeliveredAt: Date | null };

export async function listWebhookViews(tx: Tx, plantId: number, id?: number): Promise<Webhook[]> {
  const rows = await tx.$queryRaw<Row[]>`
    SELECT w.id, w.name, w.url, w.kinds, w.allow_internal AS "allowInternal", w.active, w.made_at AS "madeAt", ${HOURS},
      count(d.id) FILTER (WHERE d.state = 'waiting')::int AS waiting, count(d.id) FILTER (WHERE d.state = 'quiet')::int AS held, count(d.id) FILTER (WHERE d.state = 'failed')::int AS failed, max(d.delivered_at) AS "lastDeliveredAt"
    FROM webhook w LEFT JOIN webhook_delivery d ON d.plant_id = w.plant_id AND d.webhook_id = w.id
    WHERE w.plant_id = ${plantId} AND w.removed_at IS NULL AND (${id ?? null}::int IS NULL OR w.id = ${id ?? null}) GROUP BY w.plant_id, w.id ORDER BY w.name, w.id`;
  return rows.map(({ shiftFrom, shiftUntil, shifts, days, quietFrom, quietUntil, ...row }) => ({ ...row, ...hoursOfRow({ shiftFrom, shiftUntil, shifts, days, quietFrom, quietUntil }), madeAt: row.madeAt.toISOString(), lastDeliveredAt: row.lastDeliveredAt?.toISOString() ?? null }));
}

export type Given = ToldHours & { name: string; url: string; kinds: string[]; allowInternal: boolean };
function columnsOf<Rest>({ shift, shifts, days, quiet, ...rest }: ToldHours & Rest) {
  return { ...rest, ...rowOfHours({ shift, shifts, days, quiet }) };
}
export async function insertWebhook(tx: Tx, plantId: number, made: Given & { secret: string; madeBy: number; madeAt: Date }): Promise<number> {
  return (await tx.webhook.create({ data: { plantId, ...columnsOf(made) }, select: { id: true } })).id;
}
export async function updateWebhook(tx: Tx, plantId: number, id: number, change: Given & { active: boolean }): Promise<boolean> {
  return (await tx.webhook.updateMany({ where: { plantId, id, removedAt: null }, data: columnsOf(change) })).count > 0;
}
export async function markWebhookRemoved(tx: Tx, plantId: number, id: number, removedAt: Date): Promise<boolean> {
  return (await tx.webhook.updateMany({ where: { plantId, id, removedAt: null }, data: { removedAt, active: false } })).count > 0;
}

/** Webhooks that want this kind, with their hours. */
export async function listHearers(tx: Tx, plantId: number, kind: string): Promise<(ToldHours & { id: number })[]> {
  const rows = await tx.$queryRaw<(HoursRow & { id: number })[]>`SELECT id, ${HOURS} FROM webhook WHERE plant_id = ${plantId} AND removed_at IS NULL AND active AND ${kind} = ANY (kinds) ORDER BY id`;
  return rows.map(({ id, ...hours }) => ({ id, ...hoursOfRow(hours) }));
}

/** One row for each of these webhooks, also where its hours withhold it; what is there stays. Answers the new ones that are to be sent now. */
export async function insertDeliveries(tx: Tx, plantId: number, event: { key: string; kind: string; body: string }, hearers: readonly { webhookId: number; withheld: Withheld | null }[], now: Date): Promise<number[]> {
  const state = (why: Withheld | null) => (why === null ? 'waiting' : why === 'quiet' ? 'quiet' : 'not-sent');
  const given = JSON.stringify(hearers.map(({ webhookId, withheld }) => ({ id: webhookId, withheld, state: state(withheld) })));
  const rows = await tx.$queryRaw<{ id: number; state: string }[]>`
    INSERT INTO webhook_delivery (plant_id, webhook_id, event_key, kind, body, made_at, state, withheld)
    SELECT ${plantId}, h.id, ${event.key}, ${event.kind}, ${event.body}, ${now}, h.state, h.withheld FROM jsonb_to_recordset(${given}::jsonb) AS h(id int, state text, withheld text)
    ON CONFLICT DO NOTHING RETURNING id, state`;
  return rows.flatMap((row) => (row.state === 'waiting' ? [row.id] : []));
}

/** Webhooks of every plant for which messages wait for the end of quiet hours. */
export function listQuietWebhooks(tx: Tx): Promise<{ plantId: number; id: number; timeZone: string; quiet: Span | null }[]> {
  return tx.$queryRaw`
    SELECT w.plant_id AS "plantId", w.id, p.time_zone AS "timeZone", CASE WHEN w.quiet_from IS NOT NULL THEN jsonb_build_object('from', w.quiet_from, 'until', w.quiet_until) END AS quiet
    FROM webhook w JOIN plant p ON p.id = w.plant_id WHERE EXISTS (SELECT 1 FROM webhook_delivery d WHERE d.plant_id = w.plant_id AND d.webhook_id = w.id AND d.state = 'quiet') ORDER BY w.plant_id, w.id`;
}

/** Ends the quiet of a webhook's messages; answers which ones, in the order in which they came. */
export async function endQuiet(tx: Tx, plantId: number, webhookId: number): Promise<number[]> {
  const rows = await tx.$queryRaw<{ id: number }[]>`UPDATE webhook_delivery SET state = 'waiting' WHERE plant_id = ${plantId} AND webhook_id = ${webhookId} AND state = 'quiet' RETURNING id`;
  return rows.map(({ id }) => id).sort((a, b) => a - b);
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
  return rows.map(({ id, webhookId, webhook, kind, state, withheld, attempts, lastStatus, lastAnswer, lastError, madeAt, attemptedAt, deliveredAt }) => ({
    id, webhookId, webhook: webhook.name, kind, state: state as Delivery['state'], withheld: withheld as Delivery['withheld'], attempts, lastStatus, lastAnswer, lastError,
    madeAt: madeAt.toISOString(), attemptedAt: attemptedAt?.toISOString() ?? null, deliveredAt: deliveredAt?.toISOString() ?? null,
  }));
}

export async function plantName(tx: Tx, plantId: number): Promise<string> {
  return (await tx.plant.findUniqueOrThrow({ where: { id: plantId }, select: { name: true } })).name;
}
