import { z } from 'zod';
import { endpoint } from './endpoint.js';
import { correctors, engineers, readers } from './roles.js';
import { done, finite, id, idParams, moment, shortText } from './shapes.js';

/** RFC 6901; the empty pointer is the whole payload. */
export const pointer = z.string().max(200).regex(/^(\/([^~/]|~[01])*)*$/, 'a JSON pointer such as /weld/current, or nothing for the whole payload');
/** Section 4.7 of the MQTT standard: + is one level, # the rest, each alone in its level. */
export const topicFilter = z.string().min(1).max(500).regex(/^(?:[^+#\0/]*|\+)(?:\/(?:[^+#\0/]*|\+))*(?:\/#)?$|^#$/, 'an MQTT topic filter such as line1/welder2/+ or line1/#');

const time = z.object({ pointer, format: z.enum(['iso', 'seconds', 'milliseconds']) });
export const channel = z.object({ value: pointer, characteristicId: id, laneId: id.nullable().default(null), unitId: id.nullable().default(null), factor: finite.refine((factor) => factor !== 0, 'a factor that is not 0').default(1) });
/** `size` bodies in a row begin with every `every`-th body of the counter; without a counter, every `every` seconds. */
export const subgrouping = z.object({ size: z.number().int().min(1).max(50), every: z.number().int().min(1).max(1_000_000) });

export const readingsMapping = z.object({
  kind: z.literal('readings'),
  /** Where the payload holds several bodies: the array of them; the other pointers then begin at each body. */
  each: pointer.nullable().default(null),
  time: time.nullable().default(null), count: pointer.nullable().default(null), product: pointer.nullable().default(null),
  channels: z.array(channel).min(1).max(200), subgroup: subgrouping,
}).refine(({ time: at, count }) => at !== null || count !== null, { path: ['count'], message: 'a body counter or a time: a reading that has neither cannot be told from its repeat' })
  .refine(({ count, subgroup }) => count === null || subgroup.every >= subgroup.size, { path: ['subgroup', 'every'], message: 'at least as many bodies as a subgroup has' })
  .refine(({ channels }) => new Set(channels.map(({ characteristicId, laneId, unitId }) => `${characteristicId}/${laneId}/${unitId}`)).size === channels.length, { path: ['channels'], message: 'each characteristic, lane and unit once' });
export const countsMapping = z.object({ kind: z.literal('counts'), time, minutes: z.union([pointer, z.number().gt(0).max(1440)]), good: pointer, rejected: pointer.nullable().default(null) });
export const eventMapping = z.object({
  kind: z.literal('line-event'), time: time.nullable().default(null), key: pointer.nullable().default(null),
  event: z.union([z.object({ pointer }), z.object({ fixed: z.string().min(1).max(40) })]), text: z.union([z.object({ pointer }), z.object({ fixed: shortText })]),
}).refine(({ time: at, key }) => at !== null || key !== null, { path: ['key'], message: 'a key or a time: an event that has neither cannot be told from its repeat' });
export const messageMapping = z.discriminatedUnion('kind', [readingsMapping, countsMapping, eventMapping]);
export type MessageMapping = z.output<typeof messageMapping>;
export type ReadingsMapping = z.output<typeof readingsMapping>;

export const clockPolicy = z.enum(['quarantine', 'server-time']);
export const feedTopicFields = z.object({
  filter: topicFilter, machineId: id, productId: id.nullable(), mapping: messageMapping,
  lateHours: z.number().gt(0, 'more than 0 hours').max(8760).default(72),
  clockSeconds: z.number().min(1, 'at least 1 s').max(86_400).default(300), clockPolicy: clockPolicy.default('quarantine'),
}).refine(({ mapping, productId }) => mapping.kind !== 'readings' || productId !== null || mapping.product !== null, { path: ['productId'], message: 'a product, or a pointer to the product code in the payload' });
export type FeedTopicFields = z.output<typeof feedTopicFields>;

/** Only variables of this name are read: a setting of the plant must not be a way to every secret of the server. */
export const credentialVariable = z.string().regex(/^SEAMLEDGER_MQTT_[A-Z0-9_]{1,60}$/, 'the name of an environment variable of the server that begins with SEAMLEDGER_MQTT_');
export const feedFields = z.object({
  name: shortText, url: z.string().max(300).regex(/^mqtts?:\/\/[^\s/@]+$/, 'an address such as mqtt://broker:1883 or mqtts://broker:8883, without user and password'),
  clientId: z.string().min(1).max(60).regex(/^[A-Za-z0-9_.-]+$/, 'letters, digits, points and hyphens'), protocol: z.union([z.literal(4), z.literal(5)]),
  userVariable: credentialVariable.nullable().default(null), passwordVariable: credentialVariable.nullable().default(null), enabled: z.boolean().default(true),
});
export type FeedFields = z.output<typeof feedFields>;

/** What the quarantine of a plant holds at most; beyond it the oldest go first, decided ones before those that wait. Our choice, no source. */
export const QUARANTINE = { messages: 10_000, days: 90 } as const;

export const feedConnection = z.enum(['stopped', 'connecting', 'connected', 'waiting', 'refused']);
export const feedTopicView = z.object({ id, filter: z.string(), machineId: id, machine: z.string(), productId: id.nullable(), product: z.string().nullable(), lateHours: z.number(), clockSeconds: z.number(), clockPolicy, mapping: messageMapping });
export type FeedTopicView = z.infer<typeof feedTopicView>;
export const feedView = z.object({
  id, name: z.string(), url: z.string(), clientId: z.string(), protocol: z.number().int(), userVariable: z.string().nullable(), passwordVariable: z.string().nullable(), enabled: z.boolean(), revision: z.number().int(),
  topics: z.array(feedTopicView),
  /** Topics whose stored definition this version cannot read: the feed does not run until they are taken away. */
  unreadable: z.array(z.object({ id, filter: z.string(), wrong: z.string() })),
  /** As the process that runs it last said; `stopped` when none has for 15 s. */
  state: z.object({
    connection: feedConnection, detail: z.string(), since: moment, heardAt: moment.nullable(), clockMs: z.number().nullable(),
    messages: z.number(), readings: z.number(), subgroups: z.number(), repeated: z.number(), late: z.number(), retained: z.number(), refused: z.number(), serverTimed: z.number(),
    /** Messages that waited in the quarantine and went without a decision. */
    dropped: z.number(),
  }),
  waiting: z.number().int(),
}).meta({ id: 'Feed' });
export type FeedView = z.infer<typeof feedView>;

export const quarantined = z.object({
  id, feedId: id, topic: z.string(), payload: z.string(), payloadBytes: z.number().int(), firstAt: moment, lastAt: moment, times: z.number().int(), reason: z.string(),
  state: z.enum(['waiting', 'replay-asked', 'replayed', 'discarded']), replayedAt: moment.nullable(), decidedBy: z.string().nullable(), decisionReason: z.string(),
}).meta({ id: 'QuarantinedMessage' });
export type Quarantined = z.infer<typeof quarantined>;

const topicParams = idParams.extend({ topicId: z.coerce.number().int().positive() });
const ids = z.array(id).min(1).max(1000);

export const listFeeds = endpoint({ method: 'GET', path: '/api/monitors', feature: 'monitors', access: readers, summary: 'Feeds from in-line monitors, with the state of their connection', answer: z.object({ feeds: z.array(feedView), keepDays: z.number().int().nullable() }) });
export const makeFeed = endpoint({ method: 'POST', path: '/api/monitors', feature: 'monitors', access: engineers, status: 201, summary: 'Name a broker to listen to', body: feedFields, answer: z.object({ id }), problems: ['already-there'] });
export const changeFeed = endpoint({ method: 'PUT', path: '/api/monitors/:id', feature: 'monitors', access: engineers, summary: 'Change a feed', params: idParams, body: feedFields.extend({ revision: z.number().int() }), answer: z.object({ id }), problems: ['not-found', 'changed-meanwhile', 'already-there'] });
export const makeFeedTopic = endpoint({ method: 'POST', path: '/api/monitors/:id/topics', feature: 'monitors', access: engineers, status: 201, summary: 'Say what the messages of a topic filter mean', params: idParams, body: feedTopicFields, answer: z.object({ id }), problems: ['not-found', 'already-there'] });
export const changeFeedTopic = endpoint({ method: 'PUT', path: '/api/monitors/:id/topics/:topicId', feature: 'monitors', access: engineers, summary: 'Change the mapping of a topic filter', params: topicParams, body: feedTopicFields, answer: z.object({ id }), problems: ['not-found', 'already-there'] });
export const removeFeedTopic = endpoint({ method: 'DELETE', path: '/api/monitors/:id/topics/:topicId', feature: 'monitors', access: engineers, summary: 'Take a topic filter away; what it brought stays', params: topicParams, answer: done, problems: ['not-found'] });
export const listQuarantine = endpoint({ method: 'GET', path: '/api/monitors/:id/quarantine', feature: 'monitors', access: readers, summary: 'Messages that could not be taken, newest first, at most 200', description: `A plant keeps at most ${QUARANTINE.messages} of them, for ${QUARANTINE.days} days; what goes undecided is counted (\`dropped\` of its feed).`, params: idParams, query: z.object({ state: quarantined.shape.state.optional() }), answer: z.object({ messages: z.array(quarantined), waiting: z.number().int() }), problems: ['not-found'] });
export const replayQuarantine = endpoint({
  method: 'POST', path: '/api/monitors/:id/quarantine/replay', feature: 'monitors', access: correctors, status: 202, summary: 'Take messages once more, by the mapping as it is now',
  description: '`asMeasured`: readings outside what the can or the gauge allows are taken as they are. The process that runs the feed takes them within seconds.',
  params: idParams, body: z.object({ ids, asMeasured: z.boolean().default(false) }), answer: z.object({ asked: z.number().int() }), problems: ['not-found'],
});
export const discardQuarantine = endpoint({ method: 'POST', path: '/api/monitors/:id/quarantine/discard', feature: 'monitors', access: engineers, summary: 'Put messages aside with a reason; they stay readable', params: idParams, body: z.object({ ids, reason: z.string().trim().min(3).max(2000) }), answer: z.object({ discarded: z.number().int() }), problems: ['not-found'] });
export const setBodyRetention = endpoint({ method: 'PUT', path: '/api/monitors/retention', feature: 'monitors', access: engineers, summary: 'Say how long every-body readings are kept', description: 'Whole months are dropped once their last day is older. Subgroups stay, and so do the minutes that a signal or an incident rests on, or that a legal hold covers.', body: z.object({ keepDays: z.number().int().min(31, 'at least 31 days').max(36_500).nullable() }), answer: done });
