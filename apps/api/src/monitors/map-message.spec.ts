import fc from 'fast-check';
import { expect, it } from 'vitest';
import { feedTopicFields } from '#contract/monitors';
import { decodeJournal, encodeJournal } from './journal-bytes.js';
import { makeMapper, MessageFault } from './map-message.js';
import { filtersMeet, matchesTopic } from './match-topic.js';

const NOW = Date.UTC(2026, 2, 1, 8, 15);
const topic = (mapping: object, more: object = {}) => feedTopicFields.parse({ filter: 'a', machineId: 1, productId: 1, mapping, ...more });
const readings = { kind: 'readings', time: { pointer: '/t', format: 'seconds' }, count: '/n', channels: [{ value: '/v/0', characteristicId: 1 }, { value: '/v/1', characteristicId: 2, factor: 0.001 }], subgroup: { size: 5, every: 650 } };
const bytes = (payload: unknown) => new TextEncoder().encode(JSON.stringify(payload));

it('reads values, counter and time by their pointers, in the unit of the characteristic', () => {
  expect(makeMapper(topic(readings))(bytes({ t: NOW / 1000 - 2, n: 12, v: [0.42, 215] }), NOW)).toEqual({ kind: 'readings', clockMs: -2000, serverTimed: false, bodies: [{ at: NOW - 2000, count: 12, product: null, values: [0.42, 0.215] }] });
});

it('reads several bodies of one message', () => {
  const mapped = makeMapper(topic({ ...readings, each: '/bodies', time: null }))(bytes({ bodies: [{ n: 1, v: [1, 2] }, { n: 2, v: [null, 4] }] }), NOW);
  expect(mapped).toMatchObject({ bodies: [{ count: 1, at: NOW }, { count: 2, values: [null, 0.004] }] });
});

it('takes a count as told at the end of its span, by the clock of the device and by the server’s', () => {
  const counts = { kind: 'counts', time: { pointer: '/t', format: 'seconds' }, good: '/good' };
  expect(makeMapper(topic({ ...counts, minutes: '/m' }))(bytes({ t: NOW / 1000 - 600, m: 10, good: 6480 }), NOW)).toMatchObject({ count: { at: new Date(NOW - 600_000).toISOString(), minutes: 10, good: 6480 }, clockMs: 0, serverTimed: false });
  const ahead = makeMapper(topic({ ...counts, minutes: 10 }, { clockPolicy: 'server-time', clockSeconds: 60 }))(bytes({ t: NOW / 1000 + 3600, good: 6480 }), NOW);
  expect(ahead).toMatchObject({ count: { at: new Date(NOW - 600_000).toISOString(), minutes: 10 }, clockMs: 4_200_000, serverTimed: true });
});

it('refuses a mapping without counter and time, without product, or with a pointer that is none', () => {
  expect(feedTopicFields.safeParse({ filter: 'a', machineId: 1, productId: 1, mapping: { ...readings, time: null, count: null } }).error?.issues[0]?.message).toMatch(/a body counter or a time/);
  expect(feedTopicFields.safeParse({ filter: 'a', machineId: 1, productId: null, mapping: readings }).error?.issues[0]?.message).toMatch(/a product, or a pointer/);
  expect(feedTopicFields.safeParse({ filter: 'a', machineId: 1, productId: 1, mapping: { ...readings, count: 'n' } }).success).toBe(false);
  for (const filter of ['a/#/b', 'a+', '#a', '']) expect(feedTopicFields.safeParse({ filter, machineId: 1, productId: 1, mapping: readings }).success, filter).toBe(false);
});

it('answers any payload with readings or with words, never with another error', () => {
  const map = makeMapper(topic(readings));
  const anything = fc.oneof(fc.uint8Array({ maxLength: 60 }), fc.json().map((text) => new TextEncoder().encode(text)), fc.record({ t: fc.anything(), n: fc.anything(), v: fc.anything() }).map((payload) => { try { return bytes(payload); } catch { return new Uint8Array(); } }));
  fc.assert(fc.property(anything, (payload) => {
    try {
      const mapped = map(payload, NOW);
      if (mapped.kind === 'readings') for (const { values } of mapped.bodies) for (const value of values) expect(value === null || Number.isFinite(value)).toBe(true);
    } catch (error) {
      expect(error).toBeInstanceOf(MessageFault);
      expect((error as MessageFault).message.length).toBeGreaterThan(10);
    }
  }), { numRuns: 1000 });
});

it('matches topics as the standard says', () => {
  for (const [filter, name] of [['a/+', 'a/b'], ['a/#', 'a'], ['a/#', 'a/b/c'], ['#', 'a'], ['+/+', '/a'], ['a//b', 'a//b']]) expect(matchesTopic(filter as string, name as string), `${filter} ${name}`).toBe(true);
  for (const [filter, name] of [['a/+', 'a'], ['a/+', 'a/b/c'], ['a', 'a/b'], ['#', '$SYS/up'], ['+/up', '$SYS/up'], ['A', 'a']]) expect(matchesTopic(filter as string, name as string), `${filter} ${name}`).toBe(false);
  for (const [one, other] of [['a/+', '+/b'], ['a/#', 'a/b/c'], ['#', 'a'], ['a/#', 'a']]) expect(filtersMeet(one as string, other as string) && filtersMeet(other as string, one as string), `${one} ${other}`).toBe(true);
  for (const [one, other] of [['a/b', 'a/c'], ['a/+', 'a/b/c'], ['a', 'a/+']]) expect(filtersMeet(one as string, other as string), `${one} ${other}`).toBe(false);
});

it('brings back from the journal what was put there', () => {
  const entry = fc.record({ streamId: fc.integer({ min: 1, max: 2_147_483_647 }), at: fc.integer({ min: 0, max: 8e15 }), count: fc.option(fc.maxSafeNat(), { nil: null }), value: fc.double({ noNaN: true }), forming: fc.boolean() });
  fc.assert(fc.property(fc.array(entry), (entries) => { expect(decodeJournal(encodeJournal(entries))).toEqual(entries); }));
  expect(() => decodeJournal(new Uint8Array(27))).toThrow('decodeJournal: needs a multiple of 28 bytes, 27 given');
});
