import type { Role } from '#contract/roles';
import { record } from '../../platform/audit.js';
import { chainHead } from '../../platform/audit-chain.js';
import type { Tx } from '../../platform/work.js';
import { countCorrections, listContents } from '../../records/contents.store.js';
import { insertSignatures } from '../../records/signatures.store.js';

const AT_ONCE = 1000;
const REVIEWED_AFTER_MS = 20 * 3_600_000;

/** Signs the demo's past as reviewed on the day after, as its people did; the last day waits for whoever looks at the demo. */
export async function loadDemoReviews(tx: Tx, plantId: number, checks: readonly { id: number; takenAt: Date }[], reviewer: { id: number; name: string; role: Role }, endsAt: Date): Promise<void> {
  const past = checks.filter((check) => check.takenAt.getTime() < endsAt.getTime() - REVIEWED_AFTER_MS);
  const head = await chainHead(tx, plantId);
  for (let first = 0; first < past.length; first += AT_ONCE) {
    const slice = past.slice(first, first + AT_ONCE);
    const contents = await listContents(tx, plantId, 'check', slice.map((check) => check.id));
    const corrections = await countCorrections(tx, plantId, slice.map((check) => check.id));
    const signed = slice.flatMap((check) => { const content = contents.get(check.id); return content && content.authorId !== reviewer.id ? [{ check, content }] : []; });
    await insertSignatures(tx, plantId, signed.map(({ check, content }) => ({
      kind: 'check', recordId: check.id, meaning: 'reviewed', contentHash: content.contentHash, userId: reviewer.id, printedName: reviewer.name, role: reviewer.role, comment: '', corrections: corrections.get(check.id) ?? 0,
      at: new Date(Math.min(endsAt.getTime(), check.takenAt.getTime() + REVIEWED_AFTER_MS)), chainSeq: BigInt(head?.seq ?? 0), chainHash: head?.hash ?? '',
    })));
    await record(tx, { plantId, userId: reviewer.id, name: reviewer.name }, 'record.signed', `checks ${slice[0]?.id} to ${slice.at(-1)?.id}`, { after: { meaning: 'reviewed', records: signed.length } });
  }
}
