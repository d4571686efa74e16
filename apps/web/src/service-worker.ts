import { mayDropOlder, shellAnswer } from './shared/shell-request.js';

// Runs beside the pages, in the production build only. The build puts the files of this version and its name in here.
const shell = JSON.parse('%SHELL%') as { version: string; files: string[] };
const PREFIX = 'seamledger-shell-';
const NAME = `${PREFIX}${shell.version}`;
const PAGE = '/index.html';
const files = new Set(shell.files);

// The types of a page are in force in this folder; these few are the worker's.
type Waiting = Event & { waitUntil(work: Promise<unknown>): void };
type Fetching = Event & { request: Request; respondWith(answer: Promise<Response>): void };
type Scope = {
  addEventListener(kind: 'install' | 'activate', heard: (event: Waiting) => void): void;
  addEventListener(kind: 'fetch', heard: (event: Fetching) => void): void;
  addEventListener(kind: 'message', heard: (event: Waiting & { data: unknown; source: { id?: string } | null }) => void): void;
  skipWaiting(): Promise<void>; clients: { claim(): Promise<void>; matchAll(of: { type: 'window'; includeUncontrolled: true }): Promise<readonly { id: string }[]> }; location: Location;
};
const scope = self as unknown as Scope;

/** The whole version or none of it: a build whose files lie half in the cache must not take over. */
async function install(): Promise<void> {
  const cache = await caches.open(NAME);
  await cache.addAll(shell.files.map((file) => new Request(file, { cache: 'reload' })));
}

/** Windows that were loaded from this version. The worker forgets them when it is put to sleep: then older files are kept a little longer. */
const loadedFromThis = new Set<string>();

async function dropOlder(): Promise<void> {
  const windows = await scope.clients.matchAll({ type: 'window', includeUncontrolled: true });
  if (!mayDropOlder(windows.map(({ id }) => id), loadedFromThis)) return;
  for (const name of await caches.keys()) if (name.startsWith(PREFIX) && name !== NAME) await caches.delete(name);
}

async function answer(request: Request, kind: 'page' | 'file' | 'older'): Promise<Response> {
  if (kind === 'older') return (await caches.match(new URL(request.url).pathname)) ?? fetch(request);
  const cache = await caches.open(NAME);
  return (await cache.match(kind === 'page' ? PAGE : new URL(request.url).pathname)) ?? fetch(request);
}

scope.addEventListener('install', (event) => event.waitUntil(install()));
scope.addEventListener('activate', (event) => event.waitUntil(scope.clients.claim()));
scope.addEventListener('fetch', (event) => {
  const kind = shellAnswer(event.request, scope.location.origin, files);
  if (kind !== null) event.respondWith(answer(event.request, kind));
});
// A new version waits until a person asks for it, in one window for all; the others go on with what they have loaded until they are loaded anew.
scope.addEventListener('message', (event) => {
  if (event.data === 'take-over') void scope.skipWaiting();
  if (event.data !== 'loaded' || event.source?.id === undefined) return;
  loadedFromThis.add(event.source.id);
  event.waitUntil(dropOlder());
});
