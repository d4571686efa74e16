/**
 * Works through slices, two at a time: while one is being written, the next is made ready up to where it awaits its `turn`,
 * which comes when the one before has ended. Where one fails, the next one's turn fails the same way, no further one begins,
 * and the failure is thrown when nothing runs any more.
 */
export async function inTurn<Slice>(slices: AsyncIterable<Slice> | Iterable<Slice>, step: (slice: Slice, turn: Promise<void>) => Promise<void>): Promise<void> {
  let before = Promise.resolve();
  let running = before;
  let failed = false;
  try {
    for await (const slice of slices) {
      if (failed) break;
      running = step(slice, before);
      // What went wrong is thrown below; until then it is nobody's unhandled failure.
      running.catch(() => { failed = true; });
      await before;
      before = running;
    }
  } finally {
    await running.catch(() => {});
  }
  await running;
}
