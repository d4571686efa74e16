import { type CauseCategory, type Whys, whys } from '#contract/incident-shapes';
import type { NewIncident } from '#contract/incidents';
import { type FieldError, Problem } from '#contract/problem';
import type { Actor } from '../platform/audit.js';
import type { Tx } from '../platform/work.js';

export type IncidentTexts = { containment: string; cause: string; action: string; cansExamined: number; cansLeaking: number; leakPlace: string; defect: string; causeCategory: CauseCategory | null; causeMachineId: number | null };
export type StoredIncident = IncidentTexts & {
  id: number; state: string; revision: number; closingNote: string; closedAt: Date | null;
  dueAt: Date | null; whys: Whys; verificationId: number | null; verdict: string; closedWithout: string;
};

export async function insertIncident(tx: Tx, actor: Actor & { userId: number }, incident: NewIncident, now: Date): Promise<number> {
  const row = await tx.incident.create({
    data: { ...incident, plantId: actor.plantId, madeAt: new Date(incident.madeAt), madeUntil: incident.madeUntil === null ? null : new Date(incident.madeUntil), receivedAt: new Date(incident.receivedAt), dueAt: incident.dueAt === null ? null : new Date(incident.dueAt), loggedBy: actor.userId, loggedAt: now, changedAt: now }, select: { id: true },
  });
  return row.id;
}

/** What is not of this plant, and half, head and printing step that are not of that line, as faults of their fields. */
export async function referenceFaults(tx: Tx, plantId: number, { productId, lineId, ...place }: Pick<NewIncident, 'productId' | 'lineId' | 'codedAtStepId' | 'laneId' | 'unitId'>): Promise<FieldError[]> {
  const [product, line] = [await tx.product.count({ where: { plantId, id: productId } }), await tx.line.count({ where: { plantId, id: lineId } })];
  const [of] = await tx.$queryRaw<{ step: boolean; lane: boolean; unit: boolean }[]>`
    SELECT EXISTS (SELECT 1 FROM step WHERE plant_id = ${plantId} AND line_id = ${lineId} AND id = ${place.codedAtStepId}) AS step, EXISTS (SELECT 1 FROM lane WHERE plant_id = ${plantId} AND line_id = ${lineId} AND id = ${place.laneId}) AS lane,
      EXISTS (SELECT 1 FROM unit u JOIN machine m ON m.plant_id = u.plant_id AND m.id = u.machine_id JOIN step s ON s.plant_id = m.plant_id AND s.id = m.step_id WHERE u.plant_id = ${plantId} AND u.id = ${place.unitId} AND s.line_id = ${lineId}) AS unit`;
  const fault = (wrong: boolean, field: string, expected: string): FieldError[] => (wrong ? [{ field, expected }] : []);
  return [
    ...fault(product === 0, 'productId', 'a product of this plant'), ...fault(line === 0, 'lineId', 'a line of this plant'),
    ...fault(place.codedAtStepId !== null && !of?.step, 'codedAtStepId', 'a step of this line'), ...fault(place.laneId !== null && !of?.lane, 'laneId', 'a lane of this line'), ...fault(place.unitId !== null && !of?.unit, 'unitId', 'a unit of this line'),
  ];
}

/** The incident, locked for the rest of the transaction. */
export async function lockIncident(tx: Tx, plantId: number, id: number): Promise<StoredIncident> {
  const [row] = await tx.$queryRaw<StoredIncident[]>`
    SELECT id, state, revision, containment, cause, action, cans_examined AS "cansExamined", cans_leaking AS "cansLeaking", leak_place AS "leakPlace", defect, closing_note AS "closingNote", closed_at AS "closedAt",
      due_at AS "dueAt", cause_category AS "causeCategory", cause_machine_id AS "causeMachineId", whys, verification_id AS "verificationId", verdict, closed_without AS "closedWithout"
    FROM incident WHERE plant_id = ${plantId} AND id = ${id} FOR UPDATE`;
  if (!row) throw new Problem('not-found', `There is no incident ${id}.`);
  return { ...row, whys: whys.parse(row.whys) };
}

export async function setIncident(tx: Tx, plantId: number, id: number, change: Partial<Omit<StoredIncident, 'id' | 'revision'>>, now: Date): Promise<void> {
  await tx.incident.update({ where: { plantId_id: { plantId, id } }, data: { ...change, changedAt: now, revision: { increment: 1 } } });
}

export async function insertStep(tx: Tx, actor: Actor, incidentId: number, action: string, at: Date, comment: string | null = null, more: { state?: string; evidence?: string; dueAt?: Date | null } = {}): Promise<void> {
  await tx.incidentStep.create({ data: { plantId: actor.plantId, incidentId, at, userId: actor.userId, actor: actor.name, action, comment, ...more } });
}

/** True when it was not linked before. */
export async function insertIncidentSignal(tx: Tx, actor: Actor & { userId: number }, incidentId: number, signalId: number, reason: string): Promise<boolean> {
  const known = await tx.signal.count({ where: { plantId: actor.plantId, id: signalId } });
  if (known === 0) throw new Problem('not-found', `There is no signal ${signalId}.`);
  const { count } = await tx.incidentSignal.createMany({ data: { plantId: actor.plantId, incidentId, signalId, linkedBy: actor.userId, reason }, skipDuplicates: true });
  return count > 0;
}

export async function deleteIncidentSignal(tx: Tx, plantId: number, incidentId: number, signalId: number): Promise<void> {
  const { count } = await tx.incidentSignal.deleteMany({ where: { plantId, incidentId, signalId } });
  if (count === 0) throw new Problem('not-found', `Signal ${signalId} is not linked to incident ${incidentId}.`);
}

/** A machine that is not of this plant, as a fault of its field. */
export async function causeMachineFaults(tx: Tx, plantId: number, machineId: number | null): Promise<FieldError[]> {
  const known = machineId === null ? 1 : await tx.machine.count({ where: { plantId, id: machineId } });
  return known === 0 ? [{ field: 'causeMachineId', expected: 'a machine of this plant' }] : [];
}
