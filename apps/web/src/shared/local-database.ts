import { type DBSchema, type IDBPDatabase, openDB } from 'idb';

/** What this browser keeps for the time without a network. Values are parsed by whoever reads them: an older version may have written them. */
interface LocalShape extends DBSchema {
  answers: { key: string; value: { at: string; answer: unknown } };
  queue: { key: number; value: { place?: number; key: string; personId: number } & Record<string, unknown>; indexes: { key: string; person: number } };
  photos: { key: number; value: { place?: number; key: string; personId: number } & Record<string, unknown>; indexes: { key: string; person: number } };
}
export type LocalDatabase = IDBPDatabase<LocalShape>;

let opened: Promise<LocalDatabase> | null = null;

/** The database of this installation's pages; opened once, and given up when a newer version of the program asks for it. */
export function localDatabase(): Promise<LocalDatabase> {
  opened ??= openDB<LocalShape>('seamledger', 2, {
    upgrade(database, from) {
      if (from < 1) {
        database.createObjectStore('answers');
        const queue = database.createObjectStore('queue', { keyPath: 'place', autoIncrement: true });
        queue.createIndex('key', 'key', { unique: true });
        queue.createIndex('person', 'personId');
      }
      const photos = database.createObjectStore('photos', { keyPath: 'place', autoIncrement: true });
      photos.createIndex('key', 'key');
      photos.createIndex('person', 'personId');
    },
    blocking(_from, _to, event) { opened = null; if (event.target instanceof IDBDatabase) event.target.close(); },
    terminated() { opened = null; },
  }).catch((error: unknown) => { opened = null; throw error; });
  return opened;
}
