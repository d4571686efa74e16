import type { InputOf } from '#contract/endpoint';
import type { decideSpecification as decideEndpoint, SpecificationProposal } from '#contract/approvals';
import { Problem } from '#contract/problem';
import { needsSecondPerson } from '../plant/approvals.store.js';
import { findPlantTree } from '../plant/plant-tree.store.js';
import type { Signer } from '../platform/actor.js';
import { record } from '../platform/audit.js';
import { announce } from '../platform/outbox.js';
import type { Tx, Work } from '../platform/work.js';
import { listContents } from '../records/contents.store.js';
import { revisionView } from '../specifications/set-up.js';
import { decideSpecification, findSpecification, listRevisions } from '../specifications/set-up.store.js';
import { confirmPassword } from '../users/confirm-password.js';
import { signWithin } from './sign-records.js';

type Decision = InputOf<typeof decideEndpoint>['body'];

/** Approves (signed) or rejects a proposed revision, once. Until then it judges nothing. */
export async function approveSpecification(work: Work, signer: Signer, id: number, asked: Decision, now: Date): Promise<{ id: number }> {
  if (asked.decision === 'approved') await confirmPassword(work, signer, asked.password, now);
  const actor = { plantId: signer.plantId, userId: signer.userId, name: signer.name };
  return work.run(async (tx) => {
    const revision = await findSpecification(tx, actor.plantId, id);
    if (!revision) throw new Problem('not-found', `There is no revision ${id} of a specification.`);
    const decidedBefore = () => new Problem('wrong-state', `Revision ${revision.revision} was decided already: that happens once.`);
    if (revision.state !== 'proposed') throw decidedBefore();
    if (asked.decision === 'approved') {
      if (revision.authorId === signer.userId && (await needsSecondPerson(tx, actor.plantId))) throw new Problem('wrong-state', 'You proposed this revision yourself: its approval needs a second person. Nothing was approved.');
      await signWithin(tx, signer, { records: [{ kind: 'specification', recordId: id, contentHash: asked.contentHash }], meaning: 'approved', comment: asked.comment }, now);
    }
    const decided = await decideSpecification(tx, actor.plantId, id, { state: asked.decision, decidedBy: signer.userId, decidedAt: now, decision: asked.comment });
    if (!decided) throw decidedBefore();
    await record(tx, actor, `specification.${asked.decision}`, `specification ${id}`, { before: { state: 'proposed' }, after: { state: asked.decision, comment: asked.comment, effectiveFrom: revision.effectiveFrom.toISOString() } });
    await announce(tx, actor.plantId, [{ kind: 'specification.decided', payload: { specificationId: id } }]);
    return { id };
  });
}

/** All that waits, with what a person needs to decide on it. */
export async function listProposals(tx: Tx, plantId: number): Promise<SpecificationProposal[]> {
  const rows = await listRevisions(tx, plantId, undefined, undefined, 'proposed');
  if (rows.length === 0) return [];
  const [tree, contents] = [await findPlantTree(tx, plantId), await listContents(tx, plantId, 'specification', rows.map((row) => row.id))];
  return rows.flatMap((row) => {
    const [product, characteristic, content] = [tree.products.find((each) => each.id === row.productId), tree.characteristics.find((each) => each.id === row.characteristicId), contents.get(row.id)];
    if (!product || !characteristic || !content) return [];
    return [{ ...revisionView(row), authorId: row.authorId, product: `${product.code} ${product.name}`, characteristic: characteristic.name, unit: characteristic.unit, decimals: characteristic.decimals, contentHash: content.contentHash }];
  });
}
