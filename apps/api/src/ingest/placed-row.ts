import type { RowReason } from '#contract/ingest';

/** A characteristic at a position: what a column of a wide file is for, and what each row of a long one names. One object for each, so that readings are told apart without texts. */
export type Spot = { readonly characteristicId: number; readonly characteristic: string; readonly position: string };
/** What all readings of a row have in common. */
export type Place = {
  row: number; machineId: number; productId: number; takenAt: string; checkNumber: string; unitId: number | null; laneId: number | null; can: number;
  gaugeId: number | null; inspector: string | null; note: string | null;
};
/** The good readings of a row: `values[i]` was read at `spots[i]`. Rows without gaps share one list of spots. */
export type PlacedRow = Place & { spots: readonly Spot[]; values: readonly number[] };

/** What is wrong in a row, and what is expected; `sort` is what refusals of the same sort have in common, without the values. */
export type Refusal = { row: number; reason: string; sort: string; /** The same for a screen; null where a stored check was refused as a whole. */ why: RowReason | null };
export type Wrong = Omit<Refusal, 'row'>;

export const wrong = (code: RowReason['code'], values: RowReason['values'], reason: string, sort = reason): Wrong => ({ reason, sort, why: { code, values } });
export const isWrong = (value: unknown): value is Wrong => typeof value === 'object' && value !== null && 'reason' in value;
