import type { LikelyOrigin } from '#canmaking/defects/origin';
import { plantOrigins, weightFaults } from '#canmaking/defects/plant-origins';
import { findDefect } from '#canmaking/defects/taxonomy';
import type { InputOf } from '#contract/endpoint';
import type { OriginWeightsVersion, writeOriginWeights } from '#contract/origin-weights';
import { Problem } from '#contract/problem';
import type { Trace } from '#contract/traces';
import { type Actor, record } from '../platform/audit.js';
import type { Tx } from '../platform/work.js';
import { insertWeights, listWeightVersions, lockOriginWeights } from './origin-weights.store.js';

/** The plant's weights of a defect with the version that says so; null where those of the trade hold. */
export async function weightsInForce(tx: Tx, plantId: number, defect: string): Promise<{ origins: LikelyOrigin[]; version: NonNullable<Trace['weights']> } | null> {
  const [newest] = await listWeightVersions(tx, plantId, defect);
  if (!newest || newest.origins.length === 0) return null;
  const { id, version, author, at, reason } = newest;
  return { origins: plantOrigins(defect, newest.origins), version: { id, version, author, at, reason } };
}

/** Adds the next version; nobody overwrites what somebody else wrote meanwhile. */
export async function writeWeights(tx: Tx, actor: Actor & { userId: number }, { defect, origins, reason, after }: InputOf<typeof writeOriginWeights>['body'], now: Date): Promise<OriginWeightsVersion> {
  if (!findDefect(defect)) throw new Problem('not-found', `There is no defect "${defect}" in the taxonomy, see GET /api/defects.`);
  const faults = origins.length === 0 ? [] : weightFaults(origins);
  if (faults.length > 0) throw new Problem('invalid-input', undefined, faults.map(({ place, expected }) => ({ field: place === null ? 'origins' : `origins.${place}`, expected })));
  await lockOriginWeights(tx, actor.plantId);
  const [before] = await listWeightVersions(tx, actor.plantId, defect);
  if ((before?.version ?? 0) !== after) throw new Problem('changed-meanwhile', `The weights are at version ${before?.version ?? 0} by now; you saw version ${after}.`);
  if (origins.length === 0 && (before?.origins.length ?? 0) === 0) throw new Problem('invalid-input', undefined, [{ field: 'origins', expected: 'at least one origin: there are no weights of the plant to take back' }]);
  const stored = await insertWeights(tx, actor.plantId, { defect, version: after + 1, origins, author: actor.name, authorId: actor.userId, reason, at: now });
  await record(tx, actor, 'origin-weights.written', `origin weights ${defect}`, { before: before && { version: before.version, origins: before.origins }, after: { version: stored.version, origins, reason } });
  return stored;
}
