import type { Work } from '../platform/work.js';
import { buildSegment, type Segment } from './past-fix-index.js';
import { listPastFixes, listSegmentStamps } from './past-fixes.store.js';

type Kept = { stamp: string; segment: Segment };
// One memory a database connection, so that requests and reactions of a process share it.
const memories = new WeakMap<Work, Map<number, Map<number, Kept>>>();

/** The plant's notes and incidents, indexed: parts that the database says have changed are built anew, the others kept. */
export async function pastFixSegments(work: Work, plantId: number): Promise<Segment[]> {
  const plants = memories.get(work) ?? new Map<number, Map<number, Kept>>();
  memories.set(work, plants);
  const kept = plants.get(plantId) ?? new Map<number, Kept>();
  const fresh = new Map<number, Kept>();
  for (const { segment, stamp } of await listSegmentStamps(work.read, plantId)) {
    const known = kept.get(segment);
    fresh.set(segment, known?.stamp === stamp ? known : { stamp, segment: buildSegment(await listPastFixes(work.read, plantId, segment)) });
  }
  plants.set(plantId, fresh);
  return [...fresh.values()].map(({ segment }) => segment);
}
