import { Problem } from '#contract/problem';
import type { RecordKind, SignatureMeaning } from '#contract/records';
import type { Signer } from '../platform/actor.js';
import { record } from '../platform/audit.js';
import { chainHead } from '../platform/audit-chain.js';
import type { Tx, Work } from '../platform/work.js';
import { countCorrections, keepAsTheyAre, listContents, type RecordContent } from '../records/contents.store.js';
import { insertSignatures } from '../records/signatures.store.js';
import { confirmPassword } from '../users/confirm-password.js';

type ToSign = { records: readonly { kind: RecordKind; recordId: number; contentHash: string }[]; meaning: SignatureMeaning; password: string; comment: string };

/** Signs records as they are now, all or none, after the person has proved anew who they are. */
export async function signRecords(work: Work, signer: Signer, asked: ToSign, now: Date): Promise<number[]> {
  await confirmPassword(work, signer, asked.password, now);
  return work.run((tx) => signWithin(tx, signer, asked, now));
}

/** The same inside a larger act, whose caller has asked for the password. What is signed is held as it is meanwhile: a correction at the same moment comes before, and the signature is refused, or after, and asks for another. */
export async function signWithin(tx: Tx, signer: Omit<Signer, 'login' | 'from'>, asked: Omit<ToSign, 'password'>, now: Date): Promise<number[]> {
  const actor = { plantId: signer.plantId, userId: signer.userId, name: signer.name };
  const contents = new Map<string, RecordContent>();
  // Kind by kind in one order, whatever the list: two people who sign the same records wait for each other.
  for (const kind of [...new Set(asked.records.map((each) => each.kind))].sort()) {
    const ids = asked.records.filter((each) => each.kind === kind).map((each) => each.recordId);
    await keepAsTheyAre(tx, actor.plantId, kind, ids);
    for (const content of (await listContents(tx, actor.plantId, kind, ids)).values()) contents.set(`${kind} ${content.recordId}`, content);
  }
  for (const each of asked.records) {
    const name = `${each.kind} ${each.recordId}`;
    const content = contents.get(name);
    if (!content) throw new Problem('not-found', `There is no ${name}. Nothing was signed.`);
    if (content.contentHash !== each.contentHash) throw new Problem('changed-meanwhile', `The ${name} was changed since you saw it: look at it again. Nothing was signed.`);
    if (asked.meaning === 'reviewed' && content.authorId === signer.userId) throw new Problem('wrong-state', `You entered or wrote ${name} yourself: a review needs a second person. Nothing was signed.`);
  }
  const corrections = await countCorrections(tx, actor.plantId, asked.records.flatMap((each) => (each.kind === 'check' ? [each.recordId] : [])));
  const head = await chainHead(tx, actor.plantId);
  const ids = await insertSignatures(tx, actor.plantId, asked.records.map((each) => ({
    ...each, meaning: asked.meaning, comment: asked.comment, userId: signer.userId, printedName: signer.name, role: signer.role, at: now, corrections: each.kind === 'check' ? (corrections.get(each.recordId) ?? 0) : null, chainSeq: BigInt(head?.seq ?? 0), chainHash: head?.hash ?? '',
  })));
  for (const [index, each] of asked.records.entries()) {
    await record(tx, actor, 'record.signed', `${each.kind} ${each.recordId}`, { after: { signature: ids[index], meaning: asked.meaning, contentHash: each.contentHash, comment: asked.comment } });
  }
  return ids;
}
