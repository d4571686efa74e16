import { QueryClient } from '@tanstack/react-query';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { listenLive } from './live.js';

/** Stands for the browser's: the test says when it opens and fails. */
class Source extends EventTarget {
  static readonly OPEN = 1;
  static readonly CLOSED = 2;
  static last: Source;
  readyState = 0;
  constructor(readonly url: string) { super(); Source.last = this; }
  close(): void { this.readyState = Source.CLOSED; }
  tell(kind: string): void { this.readyState = kind === 'error' ? 0 : Source.OPEN; this.dispatchEvent(new Event(kind)); }
}

beforeEach(() => { vi.useFakeTimers(); vi.stubGlobal('EventSource', Source); });
afterEach(() => { vi.useRealTimers(); vi.unstubAllGlobals(); });

it('asks again for what the pages show as soon as a lost connection is back, and not at its first opening', async () => {
  const client = new QueryClient();
  client.setQueryData(['wall'], 'of before');
  const isOld = () => client.getQueryState(['wall'])?.isInvalidated;
  const stop = listenLive(client, '/api/wall/live', { board: ['wall'] });
  Source.last.tell('open');
  await vi.advanceTimersByTimeAsync(1000);
  expect(isOld()).toBe(false);
  Source.last.tell('error');
  await vi.advanceTimersByTimeAsync(1000);
  expect(isOld()).toBe(false);
  Source.last.tell('open');
  await vi.advanceTimersByTimeAsync(1000);
  expect(isOld()).toBe(true);
  stop();
});
