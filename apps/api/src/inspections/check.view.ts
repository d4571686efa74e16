import type { CheckVerdict, CheckView } from '#contract/inspections';
import type { CheckHeader, CheckRevisionRow, CheckRow } from './check-page.store.js';
import type { CheckSubgroup } from './check-subgroups.store.js';

/** The page of one check: readings of all subgroups laid out over its cans, and for each replaced state what changed. */
export function checkView(header: CheckHeader, subgroups: readonly CheckSubgroup[], revisions: readonly CheckRevisionRow[], verdict: CheckVerdict | null): Omit<CheckView, 'takenAt' | 'enteredAt' | 'voidedAt'> & { takenAt: Date; enteredAt: Date; voidedAt: Date | null } {
  return {
    id: header.id, takenAt: header.takenAt, enteredAt: header.enteredAt, enteredBy: header.enteredBy, inspector: header.inspector, source: header.source, note: header.note, plan: header.plan, voidedAt: header.voidedAt,
    machine: { id: header.machineId, code: header.machineCode, name: header.machineName }, product: { id: header.productId, code: header.productCode, name: header.productName },
    import: header.importId === null || header.importFile === null ? null : { id: header.importId, fileName: header.importFile },
    cans: header.canNumbers.map((number, index) => ({ number, unit: header.canUnits[index] ?? null, lane: header.canLanes[index] ?? null })),
    positions: header.positions,
    characteristics: grids(header, subgroups),
    verdict,
    revisions: revisions.map((row) => ({
      characteristic: row.characteristic, characteristicName: row.characteristicName, unit: row.unit, decimals: row.decimals, machineUnit: row.machineUnit, lane: row.lane,
      revision: row.revision, replacedAt: row.replacedAt, replacedBy: row.replacedBy, reason: row.reason,
      changes: changes(row, nextReadings(row, revisions, subgroups), cansOf(row, header), header.positions.length),
    })).sort((a, b) => b.replacedAt.localeCompare(a.replacedAt) || a.characteristic.localeCompare(b.characteristic)),
  };
}

function grids(header: CheckHeader, subgroups: readonly CheckSubgroup[]): CheckView['characteristics'] {
  const width = header.positions.length;
  const found = new Map<string, CheckView['characteristics'][number]>();
  for (const subgroup of subgroups) {
    const grid = found.get(subgroup.characteristic) ?? {
      code: subgroup.characteristic, name: subgroup.characteristicName, unit: subgroup.unit, decimals: subgroup.decimals, derived: subgroup.formula !== null, formula: subgroup.formula, gauge: subgroup.gauge,
      readings: Array.from<number | null>({ length: header.canNumbers.length * width }).fill(null),
    };
    subgroup.cans.forEach((can, row) => {
      for (let position = 0; position < width; position += 1) grid.readings[can * width + position] = subgroup.readings[row * width + position] ?? null;
    });
    found.set(subgroup.characteristic, grid);
  }
  return [...found.values()].sort((a, b) => Number(a.derived) - Number(b.derived));
}

/** The cans of a subgroup follow from its stream's unit and lane (0 stands for none in the check). */
const cansOf = (row: CheckRevisionRow, header: CheckHeader): number[] => header.canUnitIds.flatMap((unitId, index) => (unitId === (row.unitId ?? 0) && header.canLaneIds[index] === (row.laneId ?? 0) ? [index] : []));

const sameSubgroup = (a: { streamId: number; takenAt: string; sequence: number }, b: { streamId: number; takenAt: string; sequence: number }) => a.streamId === b.streamId && a.takenAt === b.takenAt && a.sequence === b.sequence;

function nextReadings(row: CheckRevisionRow, revisions: readonly CheckRevisionRow[], subgroups: readonly CheckSubgroup[]): readonly (number | null)[] {
  return (revisions.find((other) => sameSubgroup(other, row) && other.revision === row.revision + 1) ?? subgroups.find((subgroup) => sameSubgroup(subgroup, row)))?.readings ?? [];
}

function changes(row: CheckRevisionRow, next: readonly (number | null)[], cans: readonly number[], width: number) {
  return row.readings.flatMap((from, place) => {
    const to = next[place] ?? null;
    return from === to ? [] : [{ can: cans[Math.floor(place / width)] ?? Math.floor(place / width), position: place % width, from, to }];
  });
}

/** One line of a list of checks: "steady" only where every subgroup was judged and none signals. */
export function checkListed({ judged, subgroups, ...row }: CheckRow) {
  const status = row.signalIds.length > 0 ? 'signal' as const : subgroups > 0 && judged === subgroups ? 'steady' as const : 'not-judged' as const;
  return { ...row, status };
}
