import { walkBack } from '#canmaking/line/transit';
import type { CheckVerdict, CheckView } from '#contract/inspections';
import type { CheckHeader, CheckRevisionRow, CheckRow } from './check-page.store.js';
import type { RatedCell } from './check-extras.store.js';
import type { CheckSubgroup } from './check-subgroups.store.js';

type Moments = 'takenAt' | 'enteredAt' | 'voidedAt' | 'begunAt' | 'finishedAt' | 'welded';
/** A check as the page shows it, its moments still dates. */
export type CheckPage = Omit<CheckView, Moments> & { takenAt: Date; enteredAt: Date; voidedAt: Date | null; begunAt: Date | null; finishedAt: Date | null; welded: { from: Date; until: Date } | null };
export type CheckExtras = { counts: CheckView['counts']; photos: CheckView['photos']; rated: readonly RatedCell[]; transit: { shortest: number; longest: number } | null };

/** The page of one check: readings of all subgroups laid out over its cans, and for each replaced state what changed. */
export function checkView(header: CheckHeader, subgroups: readonly CheckSubgroup[], revisions: readonly CheckRevisionRow[], extras: CheckExtras, verdict: CheckVerdict | null): CheckPage {
  return {
    id: header.id, takenAt: header.takenAt, enteredAt: header.enteredAt, enteredBy: header.enteredBy, inspector: header.inspector, source: header.source, note: header.note, plan: header.plan, voidedAt: header.voidedAt,
    machine: { id: header.machineId, code: header.machineCode, name: header.machineName }, product: { id: header.productId, code: header.productCode, name: header.productName },
    import: header.importId === null || header.importFile === null ? null : { id: header.importId, fileName: header.importFile },
    cans: header.canNumbers.map((number, index) => ({ number, unit: header.canUnits[index] ?? null, lane: header.canLanes[index] ?? null })),
    positions: header.positions, begunAt: header.begunAt, finishedAt: header.finishedAt, skips: header.skips, secondReadings: header.secondReadings,
    welded: extras.transit === null ? null : weldedAt(header.takenAt, extras.transit),
    counts: extras.counts, photos: extras.photos, ratings: ratingGrids(header, extras.rated),
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

/** The cans were picked at one moment: they were welded between one longest and one shortest transit before it. */
function weldedAt(takenAt: Date, { shortest, longest }: { shortest: number; longest: number }): { from: Date; until: Date } {
  const picked = takenAt.getTime();
  const { from, until } = walkBack({ from: picked, until: picked }, [{ shortestSeconds: shortest, longestSeconds: longest }]);
  return { from: new Date(from), until: new Date(until) };
}

function ratingGrids(header: CheckHeader, rated: readonly RatedCell[]): CheckView['ratings'] {
  const width = header.positions.length;
  const found = new Map<string, CheckView['ratings'][number]>();
  for (const { code, name, unit, can, position, rating } of rated) {
    const grid = found.get(code) ?? { code, name, unit, ratings: Array.from<number | null>({ length: header.canNumbers.length * width }).fill(null) };
    grid.ratings[can * width + position] = rating;
    found.set(code, grid);
  }
  return [...found.values()];
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
