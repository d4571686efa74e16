import { z } from 'zod';
import { checkVerdict, newCheck } from '#contract/inspections';
import { problemDetails } from '#contract/problem';
import { entryDraft } from './entry-draft.js';

/** What the plant said of a sheet when it was filled: compared with what it says when the check is sent. */
const sheetBasis = z.object({
  /** What the plan asks for: cans, positions, characteristics. */
  plan: z.string(),
  product: z.object({ bodyPlate: z.number(), endPlate: z.number(), overlapFactor: z.number() }),
  /** Revision of the specification by characteristic; null where there was none. */
  specifications: z.record(z.string(), z.number().int().nullable()),
});
export type SheetBasis = z.infer<typeof sheetBasis>;

const changedThing = z.enum(['machine', 'product', 'plan', 'plate', 'specification']);
export type ChangedThing = z.infer<typeof changedThing>;

/** Why a check came back to its person: the plant changed meanwhile, the server refused it, or its answer could not be read. */
const conflict = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('changed'), what: z.array(changedThing).min(1) }),
  z.object({ kind: z.literal('refused'), problem: problemDetails }),
  z.object({ kind: z.literal('unreadable') }),
]);
export type Conflict = z.infer<typeof conflict>;

/** A check on its way: exactly as it will be sent, as often as it takes. It belongs to the person who entered it. */
export const queueItem = z.object({
  place: z.number().int(),
  key: z.string(), personId: z.number().int(), personName: z.string(),
  /** When it was put in, by the clock of this device. */
  addedAt: z.string(),
  label: z.object({ machine: z.string(), product: z.string(), plan: z.string() }),
  check: newCheck, draft: entryDraft, basis: sheetBasis,
  state: z.enum(['waiting', 'sending', 'stored', 'needs-you']),
  /** The person saw what changed and wants it sent as it was measured. */
  accepted: z.boolean(),
  // What the server of an older version answered may have another shape now: that must not hold up the checks, and one that came back can be sent again.
  conflict: conflict.nullable().catch({ kind: 'unreadable' }),
  verdict: checkVerdict.nullable().catch(null),
});
export type QueueItem = z.infer<typeof queueItem>;
export type NewQueueItem = Omit<QueueItem, 'place' | 'state' | 'accepted' | 'conflict' | 'verdict'>;
