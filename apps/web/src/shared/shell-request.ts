/** What the service worker answers itself; everything else goes to the server as if there were no worker. */
export type ShellAnswer = 'page' | 'file' | 'older' | null;

/**
 * Only the built program comes from the cache: its page for any address of a screen, and its files. The API and
 * what measures the server never do. A part of a build before this one is looked for among what is still kept of it:
 * a window that was loaded from that build may ask for it, and the server has it no more.
 */
export function shellAnswer(request: { method: string; mode: string; url: string }, origin: string, files: ReadonlySet<string>): ShellAnswer {
  const url = new URL(request.url);
  if (request.method !== 'GET' || url.origin !== origin || url.pathname === '/api' || url.pathname.startsWith('/api/') || url.pathname === '/metrics') return null;
  if (request.mode === 'navigate') return 'page';
  if (files.has(url.pathname)) return 'file';
  return url.pathname.startsWith('/assets/') ? 'older' : null;
}

/** Whether what is kept of older builds may go: every window that is open has said that it was loaded from this one. Unsure means no. */
export const mayDropOlder = (windows: readonly string[], loadedFromThis: ReadonlySet<string>): boolean => windows.every((id) => loadedFromThis.has(id));
