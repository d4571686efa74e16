import { inSpan, type Span } from './told-hours.js';

export type MailRules = { quiet: Span | null; digestMinutes: number | null };
export type Waiting = { id: number; topic: string; at: Date };

export const TOPIC_PAUSE_MS = 3_600_000;

/**
 * Which of the waiting notices go now, in one e-mail. None in quiet hours, none while the last e-mail is younger than the
 * person's digest, and none of a topic that an e-mail of the last hour spoke of: those wait, and nothing is lost.
 */
export function planMail(waiting: readonly Waiting[], rules: MailRules, last: { mailAt: Date | null; topics: ReadonlyMap<string, Date> }, now: Date, minute: number): number[] {
  if (rules.quiet && inSpan(minute, rules.quiet)) return [];
  if (rules.digestMinutes !== null && last.mailAt && now.getTime() - last.mailAt.getTime() < rules.digestMinutes * 60_000) return [];
  return waiting.filter(({ topic }) => now.getTime() - (last.topics.get(topic)?.getTime() ?? Number.NEGATIVE_INFINITY) >= TOPIC_PAUSE_MS).map(({ id }) => id);
}
