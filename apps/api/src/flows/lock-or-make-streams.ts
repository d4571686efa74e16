import { type StreamIdentity, streamKey } from '../inspections/place-readings.js';
import type { Tx } from '../platform/work.js';
import { insertStreams, lockStreams, type Stream } from '../specifications/streams.store.js';

/** Locks the streams of these identities until the transaction ends, by `streamKey`; those that are not there yet are made. */
export async function lockOrMakeStreams(tx: Tx, plantId: number, identities: readonly StreamIdentity[]): Promise<Map<string, Stream>> {
  const wanted = new Map(identities.map((identity) => [streamKey(identity), identity]));
  const found = new Map((await lockStreams(tx, plantId, [...wanted.values()])).map((stream) => [streamKey(stream), stream]));
  const missing = [...wanted].filter(([key]) => !found.has(key)).map(([, identity]) => identity);
  if (missing.length === 0) return found;
  await insertStreams(tx, plantId, missing);
  for (const stream of await lockStreams(tx, plantId, missing)) found.set(streamKey(stream), stream);
  return found;
}
