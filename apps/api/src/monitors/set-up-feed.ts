import { type FeedFields, type FeedTopicFields, messageMapping } from '#contract/monitors';
import { type FieldError, Problem } from '#contract/problem';
import { type Actor, record } from '../platform/audit.js';
import type { Tx, Work } from '../platform/work.js';
import { refuseDuplicate } from '../platform/unique.js';
import { filtersMeet } from './match-topic.js';
import { findFeed, findKeepDays, insertFeed, insertTopic, listTopics, lockFeeds, saveKeepDays, topicReferences, updateFeed, updateTopic } from './monitors.store.js';

type Person = Actor & { userId: number };

export function addFeed(work: Work, actor: Person, fields: FeedFields, now: Date): Promise<{ id: number }> {
  return work.run(async (tx) => {
    const id = await refuseDuplicate(insertFeed(tx, actor.plantId, fields, actor.userId, now), 'name', `a name that no feed has: "${fields.name}" is taken`);
    await record(tx, actor, 'feed.made', `feed ${id}`, { after: fields });
    return { id };
  });
}

export function editFeed(work: Work, actor: Person, id: number, { revision, ...fields }: FeedFields & { revision: number }): Promise<{ id: number }> {
  return work.run(async (tx) => {
    await lockFeeds(tx, actor.plantId);
    const { revision: stands, ...before } = await requireFeed(tx, actor.plantId, id);
    if (stands !== revision) throw new Problem('changed-meanwhile', 'The feed was changed since this page was read: read it again.');
    await refuseDuplicate(updateFeed(tx, actor.plantId, id, fields), 'name', `a name that no feed has: "${fields.name}" is taken`);
    await record(tx, actor, 'feed.changed', `feed ${id}`, { before, after: fields });
    return { id };
  });
}

export function saveTopic(work: Work, actor: Person, feedId: number, fields: FeedTopicFields, topicId: number | null): Promise<{ id: number }> {
  return work.run(async (tx) => {
    await lockFeeds(tx, actor.plantId);
    await requireFeed(tx, actor.plantId, feedId);
    await refuseWrongReferences(tx, actor.plantId, feedId, fields, topicId);
    if (topicId === null) {
      const id = await refuseDuplicate(insertTopic(tx, actor.plantId, feedId, fields), 'filter', 'a topic filter that this feed does not have yet');
      await changed(tx, actor, feedId, 'feed-topic.made', id, fields);
      return { id };
    }
    const known = await refuseDuplicate(updateTopic(tx, actor.plantId, feedId, topicId, fields), 'filter', 'a topic filter that this feed does not have yet');
    if (!known) throw new Problem('not-found', `Feed ${feedId} has no topic ${topicId}.`);
    await changed(tx, actor, feedId, 'feed-topic.changed', topicId, fields);
    return { id: topicId };
  });
}

export function removeTopic(work: Work, actor: Person, feedId: number, topicId: number, now: Date): Promise<{ done: true }> {
  return work.run(async (tx) => {
    await lockFeeds(tx, actor.plantId);
    if (!(await updateTopic(tx, actor.plantId, feedId, topicId, { retiredAt: now }))) throw new Problem('not-found', `Feed ${feedId} has no topic ${topicId}.`);
    await changed(tx, actor, feedId, 'feed-topic.removed', topicId, undefined);
    return { done: true };
  });
}

export function setKeepDays(work: Work, actor: Person, keepDays: number | null): Promise<{ done: true }> {
  return work.run(async (tx) => {
    const before = await findKeepDays(tx, actor.plantId);
    await saveKeepDays(tx, actor.plantId, keepDays);
    await record(tx, actor, 'feed-retention.set', 'every-body readings', { before: { keepDays: before }, after: { keepDays } });
    return { done: true };
  });
}

/** @throws Problem not-found */
export async function requireFeed(tx: Tx, plantId: number, id: number): Promise<FeedFields & { revision: number }> {
  const feed = await findFeed(tx, plantId, id);
  if (!feed) throw new Problem('not-found', `There is no feed ${id}.`);
  return feed;
}

async function changed(tx: Tx, actor: Actor, feedId: number, action: string, topicId: number, after: unknown): Promise<void> {
  await updateFeed(tx, actor.plantId, feedId, {});
  await record(tx, actor, action, `feed ${feedId} topic ${topicId}`, { after });
}

/** A message belongs to one topic, and a stream is fed by one: two writers could not tell each other's repeats. */
async function refuseWrongReferences(tx: Tx, plantId: number, feedId: number, fields: FeedTopicFields, topicId: number | null): Promise<void> {
  const known = await topicReferences(tx, plantId, fields, topicId);
  const errors: FieldError[] = [];
  if (!known.machine) errors.push({ field: 'machineId', expected: 'a machine of this plant' });
  if (!known.product) errors.push({ field: 'productId', expected: 'a product of this plant' });
  const channels = fields.mapping.kind === 'readings' ? fields.mapping.channels : [];
  const fed = known.others.flatMap(({ feed, filter, mapping }) => {
    // One that cannot be read runs nowhere, so it feeds nothing.
    const other = messageMapping.safeParse(mapping).data;
    return other?.kind === 'readings' ? other.channels.map((channel) => ({ feed, filter, key: keyOf(channel) })) : [];
  });
  channels.forEach((channel, index) => {
    const field = `mapping.channels.${index}`;
    if (!known.characteristics.includes(channel.characteristicId)) errors.push({ field: `${field}.characteristicId`, expected: 'a measured characteristic of this plant' });
    if (channel.laneId !== null && !known.lanes.includes(channel.laneId)) errors.push({ field: `${field}.laneId`, expected: 'a lane of the line of that machine' });
    if (channel.unitId !== null && !known.units.includes(channel.unitId)) errors.push({ field: `${field}.unitId`, expected: 'a unit of that machine' });
    const other = fed.find(({ key }) => key === keyOf(channel));
    if (other) errors.push({ field: `${field}.characteristicId`, expected: `what no other topic feeds: "${other.filter}" of feed "${other.feed}" has this characteristic of the machine` });
  });
  const meets = (await listTopics(tx, plantId, feedId)).find((other) => other.id !== topicId && filtersMeet(other.filter, fields.filter));
  if (meets) errors.push({ field: 'filter', expected: `a filter that meets no other of this feed: "${meets.filter}" takes some of the same topics` });
  if (errors.length > 0) throw new Problem('invalid-input', undefined, errors.slice(0, 50));
}

const keyOf = ({ characteristicId, laneId, unitId }: { characteristicId: number; laneId: number | null; unitId: number | null }) => `${characteristicId}/${laneId}/${unitId}`;
