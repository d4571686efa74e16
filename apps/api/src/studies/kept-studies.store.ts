import type { StudyListed } from '#contract/studies';
import type { Prisma } from '../platform/generated/client.js';
import type { Tx } from '../platform/work.js';

export type KeptAnswer = { method: string; body: unknown; answer: unknown };
export type StudyToKeep = { title: string; note: string; state: Record<string, unknown>; answers: readonly KeptAnswer[]; version: string; authorId: number };

const PAGE = 200;

/** @returns the id of the new study */
export async function insertStudy(tx: Tx, plantId: number, study: StudyToKeep): Promise<number> {
  const { state, answers, ...facts } = study;
  const json = (value: unknown) => JSON.parse(JSON.stringify(value)) as Prisma.InputJsonValue;
  const { id } = await tx.study.create({ data: { plantId, ...facts, state: json(state), answers: json(answers) }, select: { id: true } });
  return id;
}

/** SHA-256 (hexadecimal) over all that was kept, as the database holds it. */
export async function sealOfStudy(tx: Tx, plantId: number, id: number): Promise<string> {
  const [row] = await tx.$queryRaw<{ seal: string }[]>`SELECT study_seal(s) AS seal FROM study s WHERE s.plant_id = ${plantId} AND s.id = ${id}`;
  if (!row) throw new RangeError(`id: needs a kept study, ${id} given`);
  return row.seal;
}

/** Studies that an act of retention names; the trigger refuses any other. */
export async function deleteStudies(tx: Tx, plantId: number, ids: readonly number[]): Promise<void> {
  await tx.study.deleteMany({ where: { plantId, id: { in: [...ids] } } });
}

type Row = Omit<StudyListed, 'createdAt'> & { createdAt: Date };

/** Newest first, without the numbers: a study may hold megabytes of them. */
export async function listKeptStudies(tx: Tx, plantId: number, before: number | undefined): Promise<Row[]> {
  return tx.$queryRaw<Row[]>`
    SELECT s.id, s.title, s.note, u.name AS author, s.created_at AS "createdAt",
      ARRAY(SELECT answer ->> 'method' FROM jsonb_array_elements(s.answers) AS answer) AS methods
    FROM study s JOIN "user" u ON u.plant_id = s.plant_id AND u.id = s.author_id
    WHERE s.plant_id = ${plantId} AND s.id < ${before ?? 2147483647} ORDER BY s.id DESC LIMIT ${PAGE}`;
}

export async function findStudy(tx: Tx, plantId: number, id: number) {
  const row = await tx.study.findUnique({ where: { plantId_id: { plantId, id } }, include: { author: { select: { name: true } } } });
  return row === null ? null : { ...row, author: row.author.name };
}
