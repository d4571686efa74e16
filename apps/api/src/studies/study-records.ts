import { excludedCheck, type NewCapabilityStudy, type StudyRecord, type StudyRecordListed } from '#contract/capability-studies';
import { gaugeResult, storedGaugePlan } from '#contract/gauge-studies';
import { verificationAnswer, verificationAsked } from '#contract/incident-shapes';
import { Problem } from '#contract/problem';
import { capabilityStudy as capabilityShape } from '#contract/studies';
import { z } from 'zod';
import { type Actor, record } from '../platform/audit.js';
import { readOneMoment } from '../platform/one-moment.js';
import { announce } from '../platform/outbox.js';
import { version } from '../platform/version.js';
import type { Tx, Work } from '../platform/work.js';
import { capabilityStudy } from './capability-study.js';
import { countTrials } from './gauge-trials.store.js';
import { countLeftOut, hashInputs, inputsScope, type InputsScope } from './study-inputs.store.js';
import { insertStudyRecord, listStudyRecordRows, listStudySteps, sealOfStudyRecord, type StudyFilter, type StudyRecordRow } from './study-records.store.js';

const storedInputs = z.object({ scope: inputsScope.optional(), subgroups: z.number().optional(), excluded: z.array(excludedCheck.extend({ by: z.string(), subgroups: z.number() })).default([]) });

/** Computed from the readings as they are in one snapshot, and kept as a draft. */
export async function keepCapability(work: Work, actor: Actor & { userId: number }, asked: NewCapabilityStudy, now: Date): Promise<{ id: number }> {
  const { plantId } = actor;
  const { title, note, supersedesId, excluded, ...of } = asked;
  // Read and computed first, written in a transaction of its own: the audit chain must see the newest link, not that of the snapshot.
  const { study, inputs, hash } = await work.run(async (tx) => {
    await readOneMoment(tx);
    const scope: InputsScope = { streamId: null, product: of.product, machine: of.machine, characteristic: of.characteristic, unit: of.unit ?? null, lane: of.lane ?? null, spans: [{ from: of.from, to: of.to, withEnd: false }], leftOut: excluded.map(({ checkId }) => checkId) };
    const found = await countLeftOut(tx, plantId, scope, scope.leftOut);
    const foreign = excluded.findIndex(({ checkId }) => !found.has(checkId));
    if (foreign >= 0) throw new Problem('invalid-input', undefined, [{ field: `excluded.${foreign}.checkId`, expected: 'a check with readings of this study' }]);
    const study = await capabilityStudy(tx, plantId, of, version, scope.leftOut);
    const { hash, subgroups } = await hashInputs(tx, plantId, scope);
    const inputs = { scope, subgroups, streams: study.streams.map(({ streamId, subgroups: n, formulas }) => ({ streamId, subgroups: n, formulas })), specifications: study.specification.revisions.map(({ id }) => id), excluded: excluded.map((one) => ({ ...one, by: actor.name, subgroups: found.get(one.checkId) ?? 0 })) };
    return { study, inputs, hash };
  }, 60_000);
  return work.run(async (tx) => {
    await requireReplaceable(tx, plantId, supersedesId, 'capability');
    const id = await insertStudyRecord(tx, actor, { kind: 'capability', title, note, state: 'draft', productId: of.product, machineId: of.machine, characteristicId: of.characteristic, gaugeId: null, question: of, inputs, inputsHash: hash, results: study, version, authorId: actor.userId, createdAt: now, supersedesId });
    await noteStudy(tx, actor, 'study.kept', id, { kind: 'capability', title, inputsHash: hash, excluded });
    return { id };
  });
}

/** Audit row, with the seal of the study as it is now, and news of a change of a study. */
export async function noteStudy(tx: Tx, actor: Actor, action: string, id: number, after: Record<string, unknown>): Promise<void> {
  await record(tx, actor, action, `study record ${id}`, { after: { ...after, seal: await sealOfStudyRecord(tx, actor.plantId, id) } });
  await announce(tx, actor.plantId, [{ kind: 'study.changed', payload: { studyRecordId: id } }]);
}

/** @throws Problem invalid-input unless the study that is to be replaced is of the same kind and still stands */
export async function requireReplaceable(tx: Tx, plantId: number, id: number | null, kind: string): Promise<void> {
  if (id === null) return;
  const [old] = await listStudyRecordRows(tx, plantId, { id });
  if (!old || old.kind !== kind || old.state === 'superseded') throw new Problem('invalid-input', undefined, [{ field: 'supersedesId', expected: `a ${kind} study that is not superseded` }]);
}

/** Another reading than when it was computed? Null where the study holds its own readings or is past. */
async function isStale(tx: Tx, plantId: number, row: StudyRecordRow): Promise<boolean | null> {
  const { scope } = storedInputs.parse(row.inputs ?? {});
  if (!scope || row.inputsHash === null || row.state === 'superseded') return null;
  return (await hashInputs(tx, plantId, scope)).hash !== row.inputsHash;
}

async function listedOf(tx: Tx, plantId: number, row: StudyRecordRow): Promise<StudyRecordListed> {
  const { id, kind, title, state, product, machine, characteristic, gauge, author, verdict, supersedesId, supersededById } = row;
  return { id, kind, title, state, product, machine, characteristic, gauge, author, verdict, supersedesId, supersededById, createdAt: row.createdAt.toISOString(), approvedAt: row.approvedAt?.toISOString() ?? null, stale: await isStale(tx, plantId, row) };
}

export async function listStudyRecords(tx: Tx, plantId: number, filter: StudyFilter): Promise<StudyRecordListed[]> {
  const listed: StudyRecordListed[] = [];
  for (const row of await listStudyRecordRows(tx, plantId, filter)) listed.push(await listedOf(tx, plantId, row));
  return listed;
}

/** @throws Problem not-found */
export async function findStudyRecord(tx: Tx, plantId: number, id: number): Promise<StudyRecord> {
  const [row] = await listStudyRecordRows(tx, plantId, { id });
  if (!row) throw new Problem('not-found', `There is no study ${id}.`);
  const inputs = storedInputs.parse(row.inputs ?? {});
  return {
    ...(await listedOf(tx, plantId, row)), note: row.note, version: row.version, authorId: row.authorId, inputsHash: row.inputsHash, inputsCount: inputs.subgroups ?? null,
    content: await contentOf(tx, plantId, row, inputs.excluded), steps: await listStudySteps(tx, plantId, id),
  };
}

async function contentOf(tx: Tx, plantId: number, row: StudyRecordRow, excluded: z.output<typeof storedInputs>['excluded']): Promise<StudyRecord['content']> {
  if (row.kind === 'capability') return { kind: 'capability', excluded, study: capabilityShape.parse(row.results) };
  if (row.kind === 'before-after') return { kind: 'before-after', asked: verificationAsked.parse(row.question), answer: verificationAnswer.parse(row.results) };
  return { kind: 'gauge', plan: storedGaugePlan.parse(row.question), ...(await countTrials(tx, plantId, row.id)), result: row.results === null ? null : gaugeResult.parse(row.results) };
}
