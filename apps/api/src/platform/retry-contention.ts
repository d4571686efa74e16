const TRIES = 4;
/** Deadlock, serialization failure, and how Prisma says either. */
const CONTENTION = /\b(?:40P01|40001|P2034)\b/;

/** Runs a transaction again when somebody else wrote the same streams at the same time and the database let the other one through. */
export async function retryContention<Answer>(run: () => Promise<Answer>): Promise<Answer> {
  for (let attempt = 1; ; attempt += 1) {
    try {
      return await run();
    } catch (error) {
      if (attempt === TRIES || !CONTENTION.test(error instanceof Error ? `${error.message} ${JSON.stringify(error)}` : '')) throw error;
    }
  }
}
