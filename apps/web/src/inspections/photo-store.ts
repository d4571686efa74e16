import { z } from 'zod';
import { problemDetails } from '#contract/problem';
import { localDatabase } from '../shared/local-database.js';
import { tellQueue } from './queue-news.js';

/** A photo in this browser, until the server has it. It belongs to the check with this key. */
const keptPhoto = z.object({
  place: z.number().int(), key: z.string(), personId: z.number().int(),
  /** Index of the can that it shows; null = of no one can. */
  can: z.number().int().nullable(),
  fileName: z.string(), blob: z.instanceof(Blob), addedAt: z.string(),
  /** Known once the server has stored the check: from then on the photo can go. */
  checkId: z.number().int().nullable(),
  refused: problemDetails.nullable().catch(null),
});
export type KeptPhoto = z.infer<typeof keptPhoto>;

const readable = (rows: readonly unknown[]): KeptPhoto[] => rows.flatMap((row) => { const parsed = keptPhoto.safeParse(row); return parsed.success ? [parsed.data] : []; }).sort((a, b) => a.place - b.place);

export async function keepPhoto(photo: Omit<KeptPhoto, 'place' | 'checkId' | 'refused'>): Promise<void> {
  await (await localDatabase()).add('photos', { ...photo, checkId: null, refused: null });
  tellQueue();
}

/** Those of one entry, in the order in which they were taken. */
export const listPhotosOf = async (key: string): Promise<KeptPhoto[]> => readable(await (await localDatabase()).getAllFromIndex('photos', 'key', key));
export const listPersonsPhotos = async (personId: number): Promise<KeptPhoto[]> => readable(await (await localDatabase()).getAllFromIndex('photos', 'person', personId));

/** Changes every photo of an entry: the server has its check now, or the entry goes under another key. */
export async function changePhotosOf(key: string, change: { checkId: number } | { key: string }): Promise<void> {
  const tx = (await localDatabase()).transaction('photos', 'readwrite');
  const rows = await tx.store.index('key').getAll(key);
  await Promise.all([...rows.map((row) => tx.store.put({ ...row, ...change })), tx.done]);
  if (rows.length > 0) tellQueue();
}

export async function setRefused(place: number, refused: KeptPhoto['refused']): Promise<void> {
  const tx = (await localDatabase()).transaction('photos', 'readwrite');
  const row = await tx.store.get(place);
  await Promise.all([...(row === undefined ? [] : [tx.store.put({ ...row, refused })]), tx.done]);
  tellQueue();
}

export async function dropPhotos(places: readonly number[]): Promise<void> {
  if (places.length === 0) return;
  const tx = (await localDatabase()).transaction('photos', 'readwrite');
  await Promise.all([...places.map((place) => tx.store.delete(place)), tx.done]);
  tellQueue();
}

/** Throws an entry's photos away with it. A browser that keeps nothing has none. */
export async function dropPhotosOf(key: string): Promise<void> {
  try { await dropPhotos((await listPhotosOf(key)).map(({ place }) => place)); } catch { /* No database, no photos. */ }
}
