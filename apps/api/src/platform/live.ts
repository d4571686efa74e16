import { EventEmitter } from 'node:events';

export type LiveNews = { plantId: number; kind: 'stream' | 'signal' | 'incident' | 'hold'; id: number };

/** Hands what the outbox reactions push to the open event streams of this process. A page that missed something asks again by itself. */
export class Live {
  private readonly emitter = new EventEmitter().setMaxListeners(0);

  push(news: LiveNews): void {
    this.emitter.emit('news', news);
  }

  listen(hear: (news: LiveNews) => void): () => void {
    this.emitter.on('news', hear);
    return () => this.emitter.off('news', hear);
  }
}
