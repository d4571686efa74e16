import { compile } from 'jsonpointer';
import { z } from 'zod';
import { lineEventKind, type ProductionCount } from '#contract/production';
import { shortText } from '#contract/shapes';
import type { FeedTopicFields } from '#contract/monitors';

/** Why a message cannot be taken, in words for the person who looks at the quarantine. */
export class MessageFault extends Error {
  override readonly name = 'MessageFault';
}

export type Body = { at: number; count: number | null; product: string | null; values: (number | null)[] };
export type MappedMessage =
  | { kind: 'readings'; bodies: Body[]; clockMs: number | null; serverTimed: boolean }
  | { kind: 'counts'; count: ProductionCount; clockMs: number | null; serverTimed: boolean }
  | { kind: 'line-event'; event: { kind: z.infer<typeof lineEventKind>; at: string; text: string }; key: string; clockMs: number | null; serverTimed: boolean };
export type Mapper = (payload: Uint8Array, receivedAt: number) => MappedMessage;

const MOST_BYTES = 1_048_576;
const MOST_BODIES = 10_000;
const number = z.number();
const wholeNumber = z.number().int().min(0).max(Number.MAX_SAFE_INTEGER);
const text = z.union([z.string().trim().min(1).max(200), z.number().transform(String)]);
const isoTime = z.iso.datetime({ offset: true });

/** One field of a payload by its pointer, of a stated shape. The fault names pointer, what is expected and what is there. */
function field<Value>(at: string, shape: z.ZodType<Value>, expected: string): (payload: unknown) => Value {
  const get = at === '' ? (payload: unknown) => payload : getter(at);
  return (payload) => {
    const found = get(payload);
    const parsed = shape.safeParse(found);
    if (parsed.success) return parsed.data;
    throw new MessageFault(`${at === '' ? 'the payload' : at}: needs ${expected}, ${show(found)} is there`);
  };
}

function getter(at: string): (payload: unknown) => unknown {
  const compiled = compile(at);
  return (payload) => (typeof payload === 'object' && payload !== null ? (compiled.get(payload) as unknown) : undefined);
}

const show = (found: unknown): string => (found === undefined ? 'nothing' : JSON.stringify(found).slice(0, 80));

function timeField(time: { pointer: string; format: 'iso' | 'seconds' | 'milliseconds' }): (payload: unknown) => number {
  if (time.format === 'iso') {
    const read = field(time.pointer, isoTime, 'a time such as 2026-03-01T08:15:30.250Z, with its zone');
    return (payload) => Date.parse(read(payload));
  }
  const factor = time.format === 'seconds' ? 1000 : 1;
  const read = field(time.pointer, number.min(0).max(8.64e15 / factor), `${time.format} since 1970`);
  return (payload) => Math.round(read(payload) * factor);
}

/** The moment of a message by its own clock, or by the server's where it has none, or where that clock is ahead and the plant said so. */
function clockOf(topic: FeedTopicFields, read: ((payload: unknown) => number) | null) {
  return (payload: unknown, receivedAt: number): { at: number; clockMs: number | null; serverTimed: boolean } => {
    if (!read) return { at: receivedAt, clockMs: null, serverTimed: true };
    const at = read(payload);
    const clockMs = at - receivedAt;
    if (clockMs > topic.clockSeconds * 1000) {
      if (topic.clockPolicy === 'server-time') return { at: receivedAt, clockMs, serverTimed: true };
      throw new MessageFault(`the clock of the device is ${Math.round(clockMs / 1000)} s ahead of the server's, at most ${topic.clockSeconds} s are taken`);
    }
    if (-clockMs > topic.lateHours * 3_600_000) throw new MessageFault(`the message is of ${new Date(at).toISOString()}, ${(-clockMs / 3_600_000).toFixed(1)} h old: at most ${topic.lateHours} h are taken`);
    return { at, clockMs, serverTimed: false };
  };
}

/** Turns a topic's mapping into a function from payload to what it means. @throws MessageFault (from the function) for what cannot be taken */
export function makeMapper(topic: FeedTopicFields): Mapper {
  const read = { readings: readingsReader, counts: countsReader, 'line-event': eventReader }[topic.mapping.kind](topic);
  return (payload, receivedAt) => {
    if (payload.length > MOST_BYTES) throw new MessageFault(`the message has ${payload.length} bytes, at most ${MOST_BYTES} are taken`);
    return read(parseJson(payload), receivedAt);
  };
}

const decoder = new TextDecoder('utf-8', { fatal: true });
function parseJson(payload: Uint8Array): unknown {
  try {
    return JSON.parse(decoder.decode(payload));
  } catch (error) {
    throw new MessageFault(`the payload is not JSON in UTF-8: ${error instanceof Error ? error.message : String(error)}`);
  }
}

type Reader = (payload: unknown, receivedAt: number) => MappedMessage;

function readingsReader(topic: FeedTopicFields): Reader {
  const { mapping } = topic;
  if (mapping.kind !== 'readings') throw new RangeError(`readingsReader: needs a mapping of readings, ${mapping.kind} given`);
  const list = mapping.each === null ? null : field(mapping.each, z.array(z.unknown()).min(1).max(MOST_BODIES), `an array of 1 to ${MOST_BODIES} bodies`);
  const clock = clockOf(topic, mapping.time && timeField(mapping.time));
  const count = mapping.count === null ? null : field(mapping.count, wholeNumber, 'a body counter, a whole number of 0 or more');
  const product = mapping.product === null ? null : field(mapping.product, text, 'the code of a product');
  const channels = mapping.channels.map(({ value, factor }) => ({ read: field(value, number.nullable(), 'a number, or null for a missing reading'), factor }));
  return (payload, receivedAt) => {
    const entries = list ? list(payload) : [payload];
    let clockMs: number | null = null;
    let serverTimed = false;
    const bodies = entries.map((entry): Body => {
      const moment = clock(entry, receivedAt);
      clockMs = moment.clockMs;
      serverTimed ||= moment.serverTimed && mapping.time !== null;
      const values = channels.map(({ read, factor }) => {
        const value = read(entry);
        return value === null ? null : value * factor;
      });
      if (values.some((value) => value !== null && !(Math.abs(value) < 1e30))) throw new MessageFault('a reading is too large to be one: its size must be below 1e30');
      return { at: moment.at, count: count ? count(entry) : null, product: product ? product(entry) : null, values };
    });
    if (bodies.every(({ values }) => values.every((value) => value === null))) throw new MessageFault('the message holds no reading: every channel is null');
    return { kind: 'readings', bodies, clockMs, serverTimed };
  };
}

function countsReader(topic: FeedTopicFields): Reader {
  const { mapping, machineId } = topic;
  if (mapping.kind !== 'counts') throw new RangeError(`countsReader: needs a mapping of counts, ${mapping.kind} given`);
  const clock = clockOf(topic, timeField(mapping.time));
  const minutes = typeof mapping.minutes === 'number' ? mapping.minutes : field(mapping.minutes, number.gt(0).max(1440), 'more than 0 and at most 1440 minutes');
  const cans = wholeNumber.max(100_000_000);
  const good = field(mapping.good, cans, 'a whole number of cans');
  const rejected = mapping.rejected === null ? null : field(mapping.rejected, cans, 'a whole number of cans');
  return (payload, receivedAt) => {
    const { at, clockMs, serverTimed } = clock(payload, receivedAt);
    const long = typeof minutes === 'number' ? minutes : minutes(payload);
    // A span is told of at its end: the device's clock is not behind by its length, and the server's clock says its end.
    const from = serverTimed ? at - long * 60_000 : at;
    const count = { machineId, at: new Date(from).toISOString(), minutes: long, good: good(payload), rejected: rejected ? rejected(payload) : 0 };
    return { kind: 'counts', count, clockMs: clockMs === null ? null : clockMs + long * 60_000, serverTimed };
  };
}

function eventReader(topic: FeedTopicFields): Reader {
  const { mapping } = topic;
  if (mapping.kind !== 'line-event') throw new RangeError(`eventReader: needs a mapping of line events, ${mapping.kind} given`);
  const clock = clockOf(topic, mapping.time && timeField(mapping.time));
  const fixedOr = <Value>(source: { pointer: string } | { fixed: string }, shape: z.ZodType<Value>, expected: string) => {
    if ('pointer' in source) return field(source.pointer, shape, expected);
    const value = shape.parse(source.fixed);
    return () => value;
  };
  const kind = fixedOr(mapping.event, lineEventKind, `a kind of line event (${lineEventKind.options.join(', ')})`);
  const words = fixedOr(mapping.text, shortText, 'a text of 1 to 200 characters');
  const key = mapping.key === null ? null : field(mapping.key, text, 'a key, text or number');
  return (payload, receivedAt) => {
    const { at, clockMs, serverTimed } = clock(payload, receivedAt);
    const event = { kind: kind(payload), at: new Date(at).toISOString(), text: words(payload) };
    return { kind: 'line-event', event, key: key ? key(payload) : `${event.at} ${event.kind} ${event.text}`, clockMs, serverTimed };
  };
}
