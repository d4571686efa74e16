import type { LimitsBasis } from '#statistics/charts/limits';
import type { LimitsView } from '#contract/specifications';
import type { Tx } from '../platform/work.js';

export type FrozenLimits = LimitsBasis & { id: number; streamId: number; effectiveFrom: Date; formula: string | null };

type Row = { id: number; stream_id: number; kind: LimitsBasis['kind']; centre: number; sigma: number; spread_centre: number; subgroups: number; readings: number; effective_from: Date; formula: string | null };

/** Every frozen limits of the streams, oldest first; a later one with the same start replaces an earlier one. */
export async function listLimits(tx: Tx, plantId: number, streamIds: readonly number[]): Promise<FrozenLimits[]> {
  const rows = await tx.$queryRaw<Row[]>`
    /* named: limits */ SELECT id, stream_id, kind, centre, sigma, spread_centre, subgroups, readings, effective_from, formula FROM limits
    WHERE plant_id = ${plantId} AND stream_id = ANY(${[...streamIds]}::int[]) ORDER BY stream_id, effective_from, id`;
  return rows.map((row) => ({ id: row.id, streamId: row.stream_id, kind: row.kind, centre: row.centre, sigma: row.sigma, spreadCentre: row.spread_centre, subgroups: row.subgroups, readings: row.readings, effectiveFrom: row.effective_from, formula: row.formula }));
}

export type NewFrozenLimits = LimitsBasis & {
  streamId: number; formula: string | null; baselineFrom: Date; baselineTo: Date; effectiveFrom: Date;
  excluded: LimitsView['excluded']; authorId: number; reason: string; createdAt: Date;
};

/** Stores limits beside those that are there; answers their id. */
export async function insertLimits(tx: Tx, plantId: number, limits: NewFrozenLimits): Promise<number> {
  const { id } = await tx.limits.create({ data: { plantId, ...limits }, select: { id: true } });
  return id;
}
