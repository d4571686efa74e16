export type HeardEvent = { event: string; data: { id?: number }; lastId: string; at: number };
export type EventReader = { status: number; heard: HeardEvent[]; lastId(): string; ended: Promise<void>; drop(): void };

/** Reads a stream of server-sent events as the HTML standard says a browser does (section 9.2.6), and keeps what came. */
export async function readEvents(url: string, headers: Record<string, string>): Promise<EventReader> {
  const stop = new AbortController();
  const response = await fetch(url, { headers, signal: stop.signal });
  const heard: HeardEvent[] = [];
  let lastId = '';
  const ended = (async () => {
    const decoder = new TextDecoder();
    let text = '';
    for await (const chunk of response.body ?? []) {
      text += decoder.decode(chunk as Uint8Array, { stream: true });
      for (let end = text.indexOf('\n\n'); end >= 0; end = text.indexOf('\n\n')) {
        const fields = new Map(text.slice(0, end).split('\n').filter((line) => !line.startsWith(':')).map((line): [string, string] => [line.slice(0, line.indexOf(':')), line.slice(line.indexOf(':') + 1).trim()]));
        text = text.slice(end + 2);
        lastId = fields.get('id') ?? lastId;
        const data = fields.get('data');
        if (data !== undefined) heard.push({ event: fields.get('event') ?? 'message', data: JSON.parse(data) as { id?: number }, lastId, at: performance.now() });
      }
    }
  })().catch(() => {});
  return { status: response.status, heard, lastId: () => lastId, ended, drop: () => stop.abort() };
}
