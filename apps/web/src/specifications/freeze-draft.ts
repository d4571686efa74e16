import type { BaselineRequest } from './specifications.queries.js';

export type Excluded = { takenAt: string; sequence: number; reason: string };
/** What the form holds: moments as ISO text, null while they are not chosen. */
export type FreezeDraft = { from: string | null; to: string | null; excluded: Excluded[] };

export const emptyDraft: FreezeDraft = { from: null, to: null, excluded: [] };

const isSame = (a: { takenAt: string; sequence: number }, b: { takenAt: string; sequence: number }) => new Date(a.takenAt).getTime() === new Date(b.takenAt).getTime() && a.sequence === b.sequence;

/** A clicked point is the first of the baseline, then the last; given the other way round they change places. A third click begins anew. */
export function pickBaseline(draft: FreezeDraft, takenAt: string): FreezeDraft {
  if (draft.from === null || draft.to !== null) return { from: takenAt, to: null, excluded: [] };
  return takenAt < draft.from ? { ...draft, from: takenAt, to: draft.from } : { ...draft, to: takenAt };
}

/** Another time keeps only the exclusions that it still holds. */
export function withTime(draft: FreezeDraft, change: { from?: string; to?: string }): FreezeDraft {
  const { from, to } = { ...draft, ...change };
  return { from, to, excluded: draft.excluded.filter(({ takenAt }) => (from === null || takenAt >= from) && (to === null || takenAt <= to)) };
}

export function exclude(draft: FreezeDraft, entry: Excluded): FreezeDraft {
  return { ...draft, excluded: [...draft.excluded.filter((other) => !isSame(other, entry)), entry].sort((a, b) => (a.takenAt < b.takenAt ? -1 : 1)) };
}

export const include = (draft: FreezeDraft, entry: { takenAt: string; sequence: number }): FreezeDraft => ({ ...draft, excluded: draft.excluded.filter((other) => !isSame(other, entry)) });

export const isExcluded = (draft: FreezeDraft, entry: { takenAt: string; sequence: number }): boolean => draft.excluded.some((other) => isSame(other, entry));

/** What is asked of the server; null while the time is incomplete or the wrong way round. */
export const baselineOf = ({ from, to, excluded }: FreezeDraft): BaselineRequest | null => (from === null || to === null || from >= to ? null : { from, to, excluded });
