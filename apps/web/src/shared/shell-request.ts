/** What the service worker answers itself; everything else goes to the server as if there were no worker. */
export type ShellAnswer = 'page' | 'file' | null;

/**
 * Only the built program comes from the cache: its page for any address of a screen, and its files. The API and
 * what measures the server never do. A file that is not of this build is left to the server.
 */
export function shellAnswer(request: { method: string; mode: string; url: string }, origin: string, files: ReadonlySet<string>): ShellAnswer {
  const url = new URL(request.url);
  if (request.method !== 'GET' || url.origin !== origin || url.pathname === '/api' || url.pathname.startsWith('/api/') || url.pathname === '/metrics') return null;
  if (request.mode === 'navigate') return 'page';
  return files.has(url.pathname) ? 'file' : null;
}
