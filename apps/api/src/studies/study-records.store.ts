import { z } from 'zod';
import { studyKind, studyRecordState, type StudyRecordState } from '#contract/capability-studies';
import { gaugeVerdict } from '#contract/gauge-standing';
import { Problem } from '#contract/problem';
import { Prisma } from '../platform/generated/client.js';
import type { Actor } from '../platform/audit.js';
import type { Tx } from '../platform/work.js';

export type NewStudyRecord = {
  kind: z.infer<typeof studyKind>; title: string; note: string; state: 'measuring' | 'draft'; productId: number | null; machineId: number | null; characteristicId: number; gaugeId: number | null;
  question: unknown; inputs: unknown; inputsHash: string | null; results: unknown; version: string; authorId: number; createdAt: Date; supersedesId: number | null;
};
const json = (value: unknown) => (value === null ? Prisma.DbNull : JSON.parse(JSON.stringify(value)) as Prisma.InputJsonValue);

/** @returns the id of the new study, whose first step is its first state */
export async function insertStudyRecord(tx: Tx, actor: Actor & { userId: number }, study: NewStudyRecord): Promise<number> {
  const { question, inputs, results, ...facts } = study;
  const { id } = await tx.studyRecord.create({ data: { plantId: actor.plantId, ...facts, question: JSON.parse(JSON.stringify(question)) as Prisma.InputJsonValue, inputs: json(inputs), results: json(results) }, select: { id: true } });
  await insertStudyStep(tx, actor, id, study.state, '', study.createdAt);
  return id;
}

export async function insertStudyStep(tx: Tx, actor: Actor & { userId: number }, recordId: number, state: StudyRecordState, comment: string, at: Date): Promise<void> {
  await tx.studyStep.create({ data: { plantId: actor.plantId, recordId, state, actor: actor.name, userId: actor.userId, comment, at } });
}

/** SHA-256 (hexadecimal) over what was asked, what it rests on and what came out; not over its state, which steps move on. */
export async function sealOfStudyRecord(tx: Tx, plantId: number, id: number): Promise<string> {
  const [row] = await tx.$queryRaw<{ seal: string }[]>`SELECT study_record_seal(s) AS seal FROM study_record s WHERE s.plant_id = ${plantId} AND s.id = ${id}`;
  if (!row) throw new RangeError(`id: needs a study, ${id} given`);
  return row.seal;
}

/** Studies with steps and readings that an act of retention names; triggers refuse any other. */
export async function deleteStudyRecords(tx: Tx, plantId: number, ids: readonly number[]): Promise<void> {
  const of = { plantId, recordId: { in: [...ids] } };
  await tx.studyStep.deleteMany({ where: of });
  await tx.gaugeTrial.deleteMany({ where: of });
  await tx.studyRecord.deleteMany({ where: { plantId, id: { in: [...ids] } } });
}

/** Locks the study until the transaction ends. @throws Problem not-found */
export async function lockStudyRecord(tx: Tx, plantId: number, id: number) {
  await tx.$queryRaw`SELECT 1 FROM study_record WHERE plant_id = ${plantId} AND id = ${id} FOR UPDATE`;
  const row = await tx.studyRecord.findUnique({ where: { plantId_id: { plantId, id } } });
  if (!row) throw new Problem('not-found', `There is no study ${id}.`);
  return { ...row, state: studyRecordState.parse(row.state), kind: studyKind.parse(row.kind) };
}

type Change = { state: StudyRecordState; approvedAt?: Date; supersededById?: number; inputs?: unknown; inputsHash?: string; results?: unknown; verdict?: string | null; version?: string };
export async function updateStudyRecord(tx: Tx, plantId: number, id: number, { inputs, results, ...change }: Change): Promise<void> {
  await tx.studyRecord.update({ where: { plantId_id: { plantId, id } }, data: { ...change, ...(inputs === undefined ? {} : { inputs: json(inputs) }), ...(results === undefined ? {} : { results: json(results) }) } });
}

const named = z.object({ id: z.number(), code: z.string(), name: z.string() });
const row = z.object({
  id: z.number(), kind: studyKind, title: z.string(), note: z.string(), state: studyRecordState, product: named.nullable(), machine: named.nullable(), characteristic: named, gauge: named.nullable(),
  question: z.unknown(), inputs: z.unknown(), inputsHash: z.string().nullable(), results: z.unknown(), verdict: gaugeVerdict.nullable(), version: z.string(), author: z.string(), authorId: z.number(),
  createdAt: z.date(), approvedAt: z.date().nullable(), supersedesId: z.number().nullable(), supersededById: z.number().nullable(),
});
export type StudyRecordRow = z.infer<typeof row>;

const PAGE = 50;
export type StudyFilter = { before?: number; kind?: string; state?: string; id?: number };

/** Newest first; results only of a single one, because they are long. */
export async function listStudyRecordRows(tx: Tx, plantId: number, { before, kind, state, id }: StudyFilter): Promise<StudyRecordRow[]> {
  const results = id === undefined ? Prisma.sql`NULL::jsonb` : Prisma.sql`s.results`;
  return z.array(row).parse(await tx.$queryRaw(Prisma.sql`
    SELECT s.id, s.kind, s.title, s.note, s.state, s.inputs_hash AS "inputsHash", s.verdict, s.version, s.author_id AS "authorId", u.name AS author, s.created_at AS "createdAt", s.approved_at AS "approvedAt",
      s.supersedes_id AS "supersedesId", s.superseded_by_id AS "supersededById", s.question, s.inputs, ${results} AS results,
      CASE WHEN p.id IS NULL THEN NULL ELSE jsonb_build_object('id', p.id, 'code', p.code, 'name', p.name) END AS product,
      CASE WHEN m.id IS NULL THEN NULL ELSE jsonb_build_object('id', m.id, 'code', m.code, 'name', m.name) END AS machine,
      CASE WHEN g.id IS NULL THEN NULL ELSE jsonb_build_object('id', g.id, 'code', g.code, 'name', g.name) END AS gauge,
      jsonb_build_object('id', c.id, 'code', c.code, 'name', c.name) AS characteristic
    FROM study_record s JOIN "user" u ON u.plant_id = s.plant_id AND u.id = s.author_id JOIN characteristic c ON c.plant_id = s.plant_id AND c.id = s.characteristic_id
    LEFT JOIN product p ON p.plant_id = s.plant_id AND p.id = s.product_id LEFT JOIN machine m ON m.plant_id = s.plant_id AND m.id = s.machine_id LEFT JOIN gauge g ON g.plant_id = s.plant_id AND g.id = s.gauge_id
    WHERE s.plant_id = ${plantId} AND s.id < ${before ?? 2147483647} AND (${kind ?? null}::text IS NULL OR s.kind = ${kind ?? null}) AND (${state ?? null}::text IS NULL OR s.state = ${state ?? null})
      AND (${id ?? null}::int IS NULL OR s.id = ${id ?? null}::int)
    ORDER BY s.id DESC LIMIT ${PAGE}`));
}

export async function listStudySteps(tx: Tx, plantId: number, recordId: number) {
  return (await tx.studyStep.findMany({ where: { plantId, recordId }, orderBy: { id: 'asc' } })).map(({ id, state, actor, comment, at }) => ({ id, state: studyRecordState.parse(state), actor, comment, at: at.toISOString() }));
}
