import type { CauseCategory } from '#contract/incident-shapes';

type Control = 'in-control' | 'signals' | 'partly-judged' | 'not-judged';
type Counted = { signalled: number; judged: number; notJudged: number; checks: number };

/** What the draft of an answer says, in one language. Numbers come in as they are to be read. */
export type ReplyWords = {
  locale: string;
  /** Stands below every answer, whatever the text says. */
  caution: string; cautionTitle: string; notCounting: string;
  to: string; person: string;
  subject: (said: { complaint: boolean; day: string; defect: string; product: string; number: number }) => string;
  reported: string; cansAt: (cans: number, place: string) => string; faultAt: (place: string) => string;
  which: string; noCode: string; code: (code: string) => string; made: (line: string, moment: string, zone: string) => string;
  examined: string; noneExamined: string; noneLeaked: (cans: number, bound: string) => string; leaked: (cans: number, leaking: number, share: string) => string;
  held: string; heldOpen: string; heldNote: string;
  cause: string; causeOpen: string; causeKind: (kind: string, machine: string | null) => string; kinds: Record<CauseCategory, string>;
  did: string; didOpen: string;
  verified: string; notCompared: (why: string) => string; notYet: string; ask: string; signature: string;
  compared: (said: { characteristic: string; place: string; change: string; before: string; after: string; nBefore: number; nAfter: number; basis: 'cans' | 'subgroups' }) => string;
  difference: (difference: string, low: string, high: string) => string; control: Record<Control, (after: Counted) => string>; noWhy: string;
  /** Names of defects and places of leaks, where they are not those of the taxonomy. */
  defects: Readonly<Record<string, string>>; places: Readonly<Record<string, string>>;
};
