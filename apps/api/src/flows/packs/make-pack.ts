import { type Actor, record } from '../../platform/audit.js';
import type { Work } from '../../platform/work.js';
import { canonicalJson, sha256 } from '../../packs/canonical.js';
import type { PackContent } from '../../packs/pack-content.js';
import { readingsIn } from '../../packs/pack-facts.js';
import { endJob, type PackJob } from '../../packs/pack-jobs.store.js';
import { insertPack } from '../../packs/packs.store.js';

/** Stores the frozen pack, its audit row and the end of its job together; null when the job was cancelled or taken over meanwhile. */
export async function storePack(work: Work, actor: Actor & { userId: number }, content: PackContent, job: PackJob | null): Promise<number | null> {
  const json = canonicalJson(content);
  const hash = sha256(json);
  const { scope } = content;
  class Lost extends Error {}
  try {
    return await work.run(async (tx) => {
      const id = await insertPack(tx, actor.plantId, {
        customer: scope.customer, title: scope.title, productIds: scope.products.map((product) => product.id), from: scope.from, to: scope.to, content: json, sha256: hash,
        subjects: content.inputs.subjects.length, readings: readingsIn(content.inputs), findings: content.results.findings.length, softwareVersion: content.softwareVersion, madeBy: actor.userId, madeAt: content.madeAt,
      });
      if (job && !(await endJob(tx, job, { state: 'done', packId: id }))) throw new Lost();
      await record(tx, actor, 'pack.made', `pack ${id}`, { after: { title: scope.title, customer: scope.customer, sha256: hash } });
      return id;
    }, 120_000);
  } catch (error) {
    if (error instanceof Lost) return null;
    throw error;
  }
}
