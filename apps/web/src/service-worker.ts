import { shellAnswer } from './shared/shell-request.js';

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
  addEventListener(kind: 'message', heard: (event: MessageEvent) => void): void;
  skipWaiting(): Promise<void>; clients: { claim(): Promise<void> }; location: Location;
};
const scope = self as unknown as Scope;

/** The whole version or none of it: a build whose files lie half in the cache must not take over. */
async function install(): Promise<void> {
  const cache = await caches.open(NAME);
  await cache.addAll(shell.files.map((file) => new Request(file, { cache: 'reload' })));
}

async function activate(): Promise<void> {
  for (const name of await caches.keys()) if (name.startsWith(PREFIX) && name !== NAME) await caches.delete(name);
  await scope.clients.claim();
}

async function answer(request: Request, kind: 'page' | 'file'): Promise<Response> {
  const cache = await caches.open(NAME);
  return (await cache.match(kind === 'page' ? PAGE : new URL(request.url).pathname)) ?? fetch(request);
}

scope.addEventListener('install', (event) => event.waitUntil(install()));
scope.addEventListener('activate', (event) => event.waitUntil(activate()));
scope.addEventListener('fetch', (event) => {
  const kind = shellAnswer(event.request, scope.location.origin, files);
  if (kind !== null) event.respondWith(answer(event.request, kind));
});
// A new version waits until a person asks for it, in one window for all; the others go on with what they have loaded until they are loaded anew.
scope.addEventListener('message', (event) => { if (event.data === 'take-over') void scope.skipWaiting(); });
