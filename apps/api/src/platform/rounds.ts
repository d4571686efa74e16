/**
 * Does one job again and again until it is stopped: never two at a time, and the next `everyMs` after the last one ended.
 * A round that fails is tried again at the next; what went wrong is said once, until it goes wrong in another way or well.
 * The timer alone keeps no process alive.
 */
export class Rounds {
  private timer: NodeJS.Timeout | undefined;
  private running: Promise<void> | undefined;
  private stopped = true;
  private said = '';

  constructor(private readonly name: string, private readonly job: () => Promise<unknown>, private readonly everyMs: number, private readonly say: (line: string) => void = console.error) {}

  start(afterMs = 0): void {
    this.stopped = false;
    if (!this.running) this.schedule(afterMs);
  }

  /** The next round now, unless one is running. */
  nudge(): void {
    if (!this.stopped && !this.running) this.schedule(0);
  }

  /** Waits for the round that is running. */
  async stop(): Promise<void> {
    this.stopped = true;
    clearTimeout(this.timer);
    await this.running;
  }

  private schedule(afterMs: number): void {
    clearTimeout(this.timer);
    this.timer = setTimeout(() => {
      this.running = this.round().finally(() => {
        this.running = undefined;
        if (!this.stopped) this.schedule(this.everyMs);
      });
    }, afterMs).unref();
  }

  private async round(): Promise<void> {
    try {
      await this.job();
      this.said = '';
    } catch (error) {
      const line = `seamledger: ${this.name}: ${error instanceof Error ? error.message.trim().split('\n').at(-1) : String(error)}`;
      if (line !== this.said) this.say(line);
      this.said = line;
    }
  }
}
