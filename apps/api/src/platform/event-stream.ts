import type { Reply, Request } from './endpoint.js';
import type { NewsFeed } from './news-feed.js';

/** Also how soon a stream ends whose listener may no longer hear. */
const HEARTBEAT_MS = 15_000;
/** A page that does not read is let go before its news fill the memory; it comes back and resumes. */
const MOST_UNREAD_BYTES = 1_000_000;

type Listener = {
  plantId: number;
  /** The event that a piece of news is for this listener; null = not for them. */
  shown(news: { kind: string; id: number }): { event: string; data: object } | null;
  /** Asked with each heartbeat: false ends the stream, as for somebody whose account was disabled. */
  mayStay(): Promise<boolean>;
};

/** Server-sent events of the plant's news. Each event's id is where the page stands, and comes back as Last-Event-ID. */
export async function openEventStream(feed: NewsFeed, request: Request, reply: Reply, listener: Listener): Promise<void> {
  const given = request.headers['last-event-id'];
  const { raw } = reply;
  const waiting: string[] = [];
  let open = false;
  const write = (text: string) => {
    if (!open) waiting.push(text);
    else if (raw.writableLength > MOST_UNREAD_BYTES) raw.destroy();
    else raw.write(text);
  };
  // Joined before the answer begins: a database that is away is then still a problem with a code.
  const leave = await feed.join(listener.plantId, Array.isArray(given) ? given[0] : given, ({ cursor, news }) => {
    const shown = typeof news === 'string' ? { event: news, data: {} } : listener.shown(news);
    if (shown) write(`id: ${cursor}\nevent: ${shown.event}\ndata: ${JSON.stringify(shown.data)}\n\n`);
  });
  reply.hijack();
  raw.writeHead(200, { 'content-type': 'text/event-stream', 'cache-control': 'no-store', 'x-accel-buffering': 'no' });
  open = true;
  raw.write(`retry: 2000\n\n${waiting.join('')}`);
  const beat = setInterval(() => {
    // An id without data moves the page's place and shows nothing: what was not for this listener is not asked for again.
    write(`: still here\nid: ${feed.position}\n\n`);
    void listener.mayStay().catch(() => true).then((may) => { if (!may) raw.end(); });
  }, HEARTBEAT_MS);
  const end = () => { leave(); clearInterval(beat); };
  raw.once('close', end);
  if (raw.destroyed) end();
}
