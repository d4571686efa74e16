import type { Tx } from '../platform/work.js';

export type Places = { lineIds: number[]; machineIds: number[] };

/** People who are not disabled, each with the lines and machines that are assigned to them. */
export async function listAssigned(tx: Tx, plantId: number): Promise<({ userId: number; name: string; role: string } & Places)[]> {
  return tx.$queryRaw<({ userId: number; name: string; role: string } & Places)[]>`
    SELECT u.id AS "userId", u.name, u.role, coalesce(jsonb_agg(a.line_id ORDER BY a.line_id) FILTER (WHERE a.line_id IS NOT NULL), '[]') AS "lineIds",
      coalesce(jsonb_agg(a.machine_id ORDER BY a.machine_id) FILTER (WHERE a.machine_id IS NOT NULL), '[]') AS "machineIds"
    FROM "user" u LEFT JOIN assignment a ON a.plant_id = u.plant_id AND a.user_id = u.id
    WHERE u.plant_id = ${plantId} AND u.disabled_at IS NULL GROUP BY u.id, u.name, u.role ORDER BY u.name, u.id`;
}

export async function findPlaces(tx: Tx, plantId: number, userId: number): Promise<Places> {
  const rows = await tx.assignment.findMany({ where: { plantId, userId }, select: { lineId: true, machineId: true }, orderBy: { id: 'asc' } });
  return { lineIds: rows.flatMap(({ lineId }) => lineId ?? []), machineIds: rows.flatMap(({ machineId }) => machineId ?? []) };
}

/** Ids of the list that no line or machine in use has, and whether the person is there. */
export async function findUnknown(tx: Tx, plantId: number, userId: number, { lineIds, machineIds }: Places): Promise<{ person: boolean; lines: Set<number>; machines: Set<number> }> {
  const [person, lines, machines] = [await tx.user.count({ where: { plantId, id: userId, disabledAt: null } }), await tx.line.findMany({ where: { plantId, id: { in: lineIds } }, select: { id: true } }), await tx.machine.findMany({ where: { plantId, id: { in: machineIds }, retiredAt: null }, select: { id: true } })];
  const missing = (asked: readonly number[], found: readonly { id: number }[]) => new Set(asked.filter((id) => !found.some((row) => row.id === id)));
  return { person: person > 0, lines: missing(lineIds, lines), machines: missing(machineIds, machines) };
}

export async function replacePlaces(tx: Tx, plantId: number, userId: number, { lineIds, machineIds }: Places): Promise<void> {
  await tx.$queryRaw`SELECT id FROM "user" WHERE plant_id = ${plantId} AND id = ${userId} FOR UPDATE`;
  await tx.assignment.deleteMany({ where: { plantId, userId } });
  await tx.assignment.createMany({ data: [...lineIds.map((lineId) => ({ plantId, userId, lineId })), ...machineIds.map((machineId) => ({ plantId, userId, machineId }))] });
}
