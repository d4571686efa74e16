/** One is judged, one waits for its turn, and one is made ready meanwhile: database and server are then busy both. */
export const AT_ONCE = 3;

/**
 * Works through slices, three at a time: while one is being written, the next ones are made ready up to where each awaits its
 * `turn`, which comes when the one before has ended. Where one fails, the next one's turn fails the same way, no further one
 * begins, and the failure is thrown when nothing runs any more.
 */
export async function inTurn<Slice>(slices: AsyncIterable<Slice> | Iterable<Slice>, step: (slice: Slice, turn: Promise<void>) => Promise<void>): Promise<void> {
  const running: Promise<void>[] = [];
  let last = Promise.resolve();
  let failed = false;
  try {
    for await (const slice of slices) {
      if (failed) break;
      last = step(slice, last);
      // What went wrong is thrown below; until then it is nobody's unhandled failure.
      last.catch(() => { failed = true; });
      running.push(last);
      if (running.length === AT_ONCE) await running.shift();
    }
    for (const one of running) await one;
  } finally {
    await Promise.allSettled(running);
  }
}
