import type { z } from 'zod';
import { OfflineError } from './http.js';
import { localDatabase } from './local-database.js';

/** Asks the server, and keeps what it said; without the network, what it said last. Only for what a person at the bench needs. */
export async function orKept<Shape extends z.ZodType>(name: string, shape: Shape, ask: () => Promise<z.output<Shape>>): Promise<z.output<Shape>> {
  try {
    const answer = await ask();
    await keepAnswer(name, answer);
    return answer;
  } catch (error) {
    if (!(error instanceof OfflineError)) throw error;
    const kept = await keptAnswer(name, shape);
    if (kept === null) throw error;
    return kept;
  }
}

export async function keepAnswer(name: string, answer: unknown): Promise<void> {
  try {
    await (await localDatabase()).put('answers', { at: new Date().toISOString(), answer }, name);
  } catch { /* A browser that keeps nothing (private window, full disk) works with the network only. */ }
}

export async function keptAnswer<Shape extends z.ZodType>(name: string, shape: Shape): Promise<z.output<Shape> | null> {
  try {
    const kept = await (await localDatabase()).get('answers', name);
    const parsed = kept ? shape.safeParse(kept.answer) : null;
    return parsed?.success ? parsed.data : null;
  } catch {
    return null;
  }
}

/** No answer of the server stays on a shared tablet once the person signs out. What they entered does: drafts, and checks and photos on their way. */
export async function forgetAnswers(): Promise<void> {
  try { await (await localDatabase()).clear('answers'); } catch { /* Nothing was kept, then. */ }
}
