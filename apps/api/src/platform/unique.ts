import { Problem } from '#contract/problem';

/** Turns the database's "already there" into a refusal that names the field. Other errors pass. */
export async function refuseDuplicate<Answer>(write: Promise<Answer>, field: string, expected: string): Promise<Answer> {
  try {
    return await write;
  } catch (error) {
    if ((error as { code?: unknown }).code === 'P2002') throw new Problem('already-there', undefined, [{ field, expected }]);
    throw error;
  }
}
