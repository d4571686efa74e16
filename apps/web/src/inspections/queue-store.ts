import { localDatabase } from '../shared/local-database.js';
import { changePhotosOf } from './photo-store.js';
import { tellQueue } from './queue-news.js';
import { type NewQueueItem, type QueueItem, queueItem } from './queue-item.js';

/** Puts a check in, at the end. The same key a second time changes nothing: what is queued first is what is sent. */
export async function enqueue(item: NewQueueItem): Promise<QueueItem> {
  const tx = (await localDatabase()).transaction('queue', 'readwrite');
  const known = await tx.store.index('key').get(item.key);
  if (known !== undefined) { await tx.done; return queueItem.parse(known); }
  const fresh = { ...item, state: 'waiting' as const, accepted: false, conflict: null, verdict: null };
  const place = await tx.store.add(fresh);
  await tx.done;
  tellQueue();
  return { ...fresh, place };
}

export async function findQueued(key: string): Promise<QueueItem | null> {
  const found = await (await localDatabase()).getFromIndex('queue', 'key', key);
  const parsed = queueItem.safeParse(found);
  return parsed.success ? parsed.data : null;
}

/** The checks of one person, in the order in which they were entered. */
export async function listQueue(personId: number): Promise<QueueItem[]> {
  const rows = await (await localDatabase()).getAllFromIndex('queue', 'person', personId);
  return rows.flatMap((row) => { const parsed = queueItem.safeParse(row); return parsed.success ? [parsed.data] : []; }).sort((a, b) => a.place - b.place);
}

/** What of one person this version cannot read, as text to copy: written by another version, or broken. It holds up nothing and is never sent. */
export async function listUnreadable(personId: number): Promise<{ place: number; text: string }[]> {
  const rows = await (await localDatabase()).getAllFromIndex('queue', 'person', personId);
  return rows.flatMap((row) => (queueItem.safeParse(row).success || row.place === undefined ? [] : [{ place: row.place, text: textOf(row) }]));
}

function textOf(row: unknown): string {
  try { return JSON.stringify(row, null, 1) ?? String(row); } catch { return String(row); }
}

/** How many checks of other people wait in this browser, by name: they are sent when those people sign in here. */
export async function listOthers(personId: number): Promise<{ name: string; count: number }[]> {
  const counts = new Map<string, number>();
  for (const row of await (await localDatabase()).getAll('queue')) {
    if (row.personId === personId || row['state'] === 'stored') continue;
    const name = String(row['personName']);
    counts.set(name, (counts.get(name) ?? 0) + 1);
  }
  return [...counts].map(([name, count]) => ({ name, count }));
}

/** Changes an item that is still there; answers false where another window took it out meanwhile. */
export async function changeQueued(place: number, change: Partial<Pick<QueueItem, 'key' | 'check' | 'state' | 'accepted' | 'conflict' | 'verdict'>>): Promise<boolean> {
  const tx = (await localDatabase()).transaction('queue', 'readwrite');
  const row = await tx.store.get(place);
  if (row !== undefined) await tx.store.put({ ...row, ...change });
  await tx.done;
  if (row !== undefined && change.key !== undefined) await changePhotosOf(row.key, { key: change.key });
  if (row !== undefined) tellQueue();
  return row !== undefined;
}

export async function removeQueued(place: number): Promise<void> {
  await (await localDatabase()).delete('queue', place);
  tellQueue();
}
