import { feedConnection, type FeedFields, type FeedTopicFields, feedTopicView, type FeedView, messageMapping } from '#contract/monitors';
import { z } from 'zod';
import { expectedWords } from '../platform/expected-words.js';
import type { Tx } from '../platform/work.js';

export type RunnableFeed = { plantId: number; id: number; url: string; clientId: string; protocol: 4 | 5; userVariable: string | null; passwordVariable: string | null; revision: number; madeBy: number; name: string };
export type RunnableTopic = FeedTopicFields & { id: number; lineId: number };

/** The feeds of every plant that are to run. */
export async function listRunnable(tx: Tx): Promise<RunnableFeed[]> {
  const rows = await tx.feed.findMany({ where: { enabled: true }, orderBy: [{ plantId: 'asc' }, { id: 'asc' }] });
  return rows.map((row) => ({ ...row, protocol: row.protocol === 5 ? 5 : 4 }));
}

const topicRow = z.object({ id: z.number(), filter: z.string(), machineId: z.number(), lineId: z.number(), productId: z.number().nullable(), lateHours: z.number(), clockSeconds: z.number(), clockPolicy: z.enum(['quarantine', 'server-time']), mapping: messageMapping });

/** Feeds of a plant are changed by one person at a time: whether a stream is fed by another topic must hold until the change is stored. What the feeds bring meanwhile is stored beside it. */
export async function lockFeeds(tx: Tx, plantId: number): Promise<void> {
  await tx.$executeRaw`SELECT 1 FROM feed WHERE plant_id = ${plantId} ORDER BY id FOR NO KEY UPDATE`;
}

/** @throws Error that names the topic, where its definition cannot be read. */
export async function listTopics(tx: Tx, plantId: number, feedId: number): Promise<RunnableTopic[]> {
  const rows = await tx.$queryRaw<unknown[]>`
    SELECT t.id, t.filter, t.machine_id AS "machineId", s.line_id AS "lineId", t.product_id AS "productId", t.late_hours AS "lateHours", t.clock_seconds AS "clockSeconds", t.clock_policy AS "clockPolicy", t.mapping
    FROM feed_topic t JOIN machine m ON m.plant_id = t.plant_id AND m.id = t.machine_id JOIN step s ON s.plant_id = m.plant_id AND s.id = m.step_id
    WHERE t.plant_id = ${plantId} AND t.feed_id = ${feedId} AND t.retired_at IS NULL ORDER BY t.id`;
  return rows.map((row) => {
    const parsed = topicRow.safeParse(row, { error: expectedWords });
    if (parsed.success) return parsed.data;
    const { filter } = z.object({ filter: z.string() }).parse(row);
    throw new Error(`the definition of topic ${filter} cannot be read: ${wrongIn(parsed.error)}`);
  });
}

/** Where and what, in one line. */
const wrongIn = (error: z.ZodError): string => error.issues.slice(0, 3).map(({ path, message }) => `${path.join('.')}: ${message} expected`).join('; ').slice(0, 300);

/** Topics that can be read, and those that cannot, each with what is wrong. */
function sortTopics(given: unknown): Pick<FeedView, 'topics' | 'unreadable'> {
  const found: Pick<FeedView, 'topics' | 'unreadable'> = { topics: [], unreadable: [] };
  for (const topic of z.array(z.unknown()).parse(given)) {
    const parsed = feedTopicView.safeParse(topic, { error: expectedWords });
    if (parsed.success) found.topics.push(parsed.data);
    else found.unreadable.push({ ...z.object({ id: z.number(), filter: z.string() }).parse(topic), wrong: wrongIn(parsed.error) });
  }
  return found;
}

type Row = Omit<FeedView, 'topics' | 'unreadable' | 'state' | 'waiting'> & { topics: unknown; connection: string | null; detail: string | null; since: Date | null; madeAt: Date; heardAt: Date | null; clockMs: number | null; alive: boolean | null } & Record<'messages' | 'readings' | 'subgroups' | 'repeated' | 'late' | 'retained' | 'refused' | 'serverTimed' | 'dropped' | 'waiting', bigint | null>;

/** Feeds with topics, state and how many messages wait in quarantine. */
export async function listFeedViews(tx: Tx, plantId: number): Promise<FeedView[]> {
  const rows = await tx.$queryRaw<Row[]>`
    SELECT f.id, f.name, f.url, f.client_id AS "clientId", f.protocol, f.user_variable AS "userVariable", f.password_variable AS "passwordVariable", f.enabled, f.revision, f.made_at AS "madeAt",
      (SELECT coalesce(jsonb_agg(jsonb_build_object('id', t.id, 'filter', t.filter, 'machineId', t.machine_id, 'machine', m.code, 'productId', t.product_id, 'product', p.code, 'lateHours', t.late_hours, 'clockSeconds', t.clock_seconds, 'clockPolicy', t.clock_policy, 'mapping', t.mapping) ORDER BY t.filter), '[]')
        FROM feed_topic t JOIN machine m ON m.plant_id = t.plant_id AND m.id = t.machine_id LEFT JOIN product p ON p.plant_id = t.plant_id AND p.id = t.product_id WHERE t.plant_id = f.plant_id AND t.feed_id = f.id AND t.retired_at IS NULL) AS topics,
      s.state AS connection, s.detail, s.since, s.heard_at AS "heardAt", s.clock_ms AS "clockMs", s.lease_until > now() AS alive,
      s.messages, s.readings, s.subgroups, s.repeated, s.late, s.retained, s.refused, s.server_timed AS "serverTimed", s.dropped,
      (SELECT count(*) FROM feed_quarantine q WHERE q.plant_id = f.plant_id AND q.feed_id = f.id AND q.state = 'waiting') AS waiting
    FROM feed f LEFT JOIN feed_state s ON s.plant_id = f.plant_id AND s.feed_id = f.id WHERE f.plant_id = ${plantId} ORDER BY f.name`;
  return rows.map(({ topics, connection, detail, since, madeAt, heardAt, clockMs, alive, waiting, messages, readings, subgroups, repeated, late, retained, refused, serverTimed, dropped, ...feed }) => ({
    ...feed, ...sortTopics(topics), waiting: Number(waiting),
    state: {
      connection: alive ? feedConnection.parse(connection) : 'stopped', detail: detail ?? '', since: (since ?? madeAt).toISOString(), heardAt: heardAt?.toISOString() ?? null, clockMs,
      messages: Number(messages), readings: Number(readings), subgroups: Number(subgroups), repeated: Number(repeated), late: Number(late), retained: Number(retained), refused: Number(refused), serverTimed: Number(serverTimed), dropped: Number(dropped),
    },
  }));
}

export async function findFeed(tx: Tx, plantId: number, id: number): Promise<(FeedFields & { revision: number }) | null> {
  const row = await tx.feed.findUnique({ where: { plantId_id: { plantId, id } } });
  return row && { name: row.name, url: row.url, clientId: row.clientId, protocol: row.protocol === 5 ? 5 : 4, userVariable: row.userVariable, passwordVariable: row.passwordVariable, enabled: row.enabled, revision: row.revision };
}

export async function insertFeed(tx: Tx, plantId: number, fields: FeedFields, madeBy: number, madeAt: Date): Promise<number> {
  const { id } = await tx.feed.create({ data: { plantId, ...fields, madeBy, madeAt, state: { create: {} } }, select: { id: true } });
  return id;
}

export async function updateFeed(tx: Tx, plantId: number, id: number, fields: Partial<FeedFields>): Promise<void> {
  await tx.feed.update({ where: { plantId_id: { plantId, id } }, data: { ...fields, revision: { increment: 1 } } });
}

export async function insertTopic(tx: Tx, plantId: number, feedId: number, fields: FeedTopicFields): Promise<number> {
  const { id } = await tx.feedTopic.create({ data: { plantId, feedId, ...fields }, select: { id: true } });
  return id;
}

/** False where there is no such topic, or it was taken away. */
export async function updateTopic(tx: Tx, plantId: number, feedId: number, id: number, fields: FeedTopicFields | { retiredAt: Date }): Promise<boolean> {
  const { count } = await tx.feedTopic.updateMany({ where: { plantId, feedId, id, retiredAt: null }, data: fields });
  return count > 0;
}

/** True the first time that a topic's message key is seen. */
export async function insertMessageKey(tx: Tx, plantId: number, topicId: number, key: string, at: Date): Promise<boolean> {
  const rows = await tx.$executeRaw`INSERT INTO feed_message_key (plant_id, topic_id, key, at) VALUES (${plantId}, ${topicId}, ${key}, ${at}) ON CONFLICT DO NOTHING`;
  return rows > 0;
}

export async function findKeepDays(tx: Tx, plantId: number): Promise<number | null> {
  return (await tx.feedSetting.findUnique({ where: { plantId } }))?.keepDays ?? null;
}

export async function saveKeepDays(tx: Tx, plantId: number, keepDays: number | null): Promise<void> {
  await tx.feedSetting.upsert({ where: { plantId }, create: { plantId, keepDays }, update: { keepDays } });
}

type TopicReferences = { machine: boolean; product: boolean; characteristics: number[]; lanes: number[]; units: number[]; others: { feed: string; filter: string; mapping: unknown }[] };

/** Whether machine and product of a topic are there, which measured characteristics, lanes and units it may name, and every other topic of the machine, so that none is fed twice. */
export async function topicReferences(tx: Tx, plantId: number, fields: FeedTopicFields, except: number | null): Promise<TopicReferences> {
  const [row] = await tx.$queryRaw<TopicReferences[]>`
    SELECT EXISTS (SELECT 1 FROM machine WHERE plant_id = ${plantId} AND id = ${fields.machineId}) AS machine, (${fields.productId}::int IS NULL OR EXISTS (SELECT 1 FROM product WHERE plant_id = ${plantId} AND id = ${fields.productId})) AS product,
      ARRAY(SELECT id FROM characteristic WHERE plant_id = ${plantId} AND formula IS NULL) AS characteristics,
      ARRAY(SELECT l.id FROM lane l JOIN step s ON s.plant_id = l.plant_id AND s.line_id = l.line_id JOIN machine m ON m.plant_id = s.plant_id AND m.step_id = s.id WHERE m.plant_id = ${plantId} AND m.id = ${fields.machineId}) AS lanes,
      ARRAY(SELECT id FROM unit WHERE plant_id = ${plantId} AND machine_id = ${fields.machineId}) AS units,
      (SELECT coalesce(jsonb_agg(jsonb_build_object('feed', f.name, 'filter', t.filter, 'mapping', t.mapping)), '[]') FROM feed_topic t JOIN feed f ON f.plant_id = t.plant_id AND f.id = t.feed_id
        WHERE t.plant_id = ${plantId} AND t.machine_id = ${fields.machineId} AND t.retired_at IS NULL AND t.id IS DISTINCT FROM ${except}::int) AS others`;
  return row ?? { machine: false, product: false, characteristics: [], lanes: [], units: [], others: [] };
}
