import type { Tx } from './work.js';

/** Everything that the transaction reads is of one moment, so that figures, hashes and comparisons are of the same rows; it can store nothing. Must come first in it. */
export async function readOneMoment(tx: Tx): Promise<void> {
  await tx.$executeRaw`SET TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY`;
}
