import type { pastFixFields } from '#contract/knowledge';

export type PastFixField = (typeof pastFixFields)[number];

/** A note or an incident as the search sees it. */
export type PastFix = {
  kind: 'note' | 'incident';
  id: number;
  texts: Record<PastFixField, string>;
  defect: string; defectName: string; stepKind: string | null; machine: string | null; customer: string | null; state: string | null;
  changedAt: Date;
};

/** What people have said of a note: links that they confirmed, and closed incidents among what cites it. */
export type Standing = { confirmed: number; helped: number };
export const NO_STANDING: Standing = { confirmed: 0, helped: 0 };

export const keyOf = (fix: { kind: string; id: number }): string => `${fix.kind} ${fix.id}`;
