import { type FieldError, Problem } from '#contract/problem';
import type { newLineEvent, PlacedLineEvent } from '#contract/production';
import type { z } from 'zod';
import type { Tx } from '../platform/work.js';
import { listPlaces } from './places.store.js';

type Named = { machineId?: number | undefined; machine?: string | undefined };

/** Rows with ids for the codes of their machines; a code that means nothing refuses them all, row by row. `list` names the field that holds the rows. */
export async function placeByCode<Row extends Named>(tx: Tx, plantId: number, list: string, rows: readonly Row[]): Promise<(Omit<Row, 'machine' | 'machineId'> & { machineId: number })[]> {
  const known = rows.some(({ machine }) => machine !== undefined) ? new Map((await listPlaces(tx, plantId)).machines.map(({ code, id }) => [code, id])) : new Map<string, number>();
  const errors: FieldError[] = [];
  const placed = rows.map(({ machine, machineId, ...row }, index) => {
    const found = machine === undefined ? machineId : known.get(machine);
    if (found === undefined) errors.push({ field: `${list}.${index}.machine`, row: index + 1, expected: `the code of a machine of this plant, not "${machine}"` });
    return { ...row, machineId: found ?? 0 };
  });
  refuse(errors);
  return placed;
}

/** An event with ids for its codes; the line of a machine is known by itself. */
export async function placeEvent(tx: Tx, plantId: number, { line, machine, lineId, machineId, ...event }: z.infer<typeof newLineEvent>): Promise<PlacedLineEvent> {
  if (lineId !== undefined && machine === undefined) return { ...event, lineId, machineId };
  const places = await listPlaces(tx, plantId);
  const onMachine = places.machines.find(({ id, code }) => (machine === undefined ? id === machineId : code === machine));
  const onLine = line === undefined ? lineId ?? onMachine?.lineId : places.lines.find(({ code }) => code === line)?.id;
  refuse([
    ...(machine !== undefined && !onMachine ? [{ field: 'machine', expected: `the code of a machine of this plant, not "${machine}"` }] : []),
    ...(machine === undefined && machineId !== null && !onMachine ? [{ field: 'machineId', expected: 'a machine of this plant' }] : []),
    ...(line !== undefined && onLine === undefined ? [{ field: 'line', expected: `the code of a line of this plant, not "${line}"` }] : []),
  ]);
  if (onLine === undefined) throw new Problem('internal');
  return { ...event, lineId: onLine, machineId: onMachine?.id ?? null };
}

function refuse(errors: readonly FieldError[]): void {
  if (errors.length > 0) throw new Problem('invalid-input', errors[0] && `${errors[0].field}: ${errors[0].expected}`, errors.slice(0, 50));
}
