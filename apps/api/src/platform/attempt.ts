import type { Tx } from './work.js';

/** Steps that may fail without spoiling the transaction: what they wrote is taken back, and the error passed on. Not nested. */
export async function attempt<Answer>(tx: Tx, steps: () => Promise<Answer>): Promise<Answer> {
  await tx.$executeRaw`SAVEPOINT attempt`;
  try {
    const answer = await steps();
    await tx.$executeRaw`RELEASE SAVEPOINT attempt`;
    return answer;
  } catch (error) {
    await tx.$executeRaw`ROLLBACK TO SAVEPOINT attempt`;
    throw error;
  }
}
