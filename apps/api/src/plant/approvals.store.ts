import type { Tx } from '../platform/work.js';

export const needsSecondPerson = async (tx: Tx, plantId: number) => (await tx.plant.findUniqueOrThrow({ where: { id: plantId }, select: { secondPerson: true } })).secondPerson;
export const updateSecondPerson = (tx: Tx, plantId: number, secondPerson: boolean) => tx.plant.update({ where: { id: plantId }, data: { secondPerson }, select: { secondPerson: true } });
