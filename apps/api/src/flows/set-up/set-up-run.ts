import type { PlantTree } from '#contract/plant';
import type { SetUpChange, SetUpReport } from '#contract/plant-set-up';
import { Problem } from '#contract/problem';
import { findPlantTree } from '../../plant/plant-tree.store.js';
import type { Actor } from '../../platform/audit.js';
import type { Tx, Work } from '../../platform/work.js';

type Values = Readonly<Record<string, unknown>>;

/** One import on its way: who, in which transaction, what was done so far. */
export class SetUpRun {
  readonly report: SetUpReport = { changes: [], same: {} };
  private read: PlantTree | undefined;

  constructor(readonly work: Work, readonly tx: Tx, readonly actor: Actor & { userId: number }, readonly reason: string, readonly now: Date) {}

  /** The plant as it now stands: read anew only after something was done. */
  async tree(): Promise<PlantTree> {
    this.read ??= await findPlantTree(this.tx, this.actor.plantId);
    return this.read;
  }

  /** Does what makes the row of the file so. A refusal names the field by its path in the file. */
  async row(section: string, row: number, name: string, before: Values | undefined, after: Values, act: SetUpChange['act'], apply: () => Promise<unknown>): Promise<void> {
    const fields = changedFields(before ?? {}, after);
    if (before && fields.length === 0) { this.report.same[section] = (this.report.same[section] ?? 0) + 1; return; }
    await this.inPlace(`${section}.${row}`, apply);
    this.report.changes.push({ section, row, name, act: before && act === 'make' ? 'change' : act, fields: before ? fields : [] });
  }

  /** Does one act of the screens; what it refuses names the place in the file. */
  async inPlace(place: string, act: () => Promise<unknown>): Promise<void> {
    try {
      await act();
    } catch (error) {
      if (!(error instanceof Problem) || error.code === 'internal') throw error;
      throw new Problem(error.code, error.detail, (error.errors ?? [{ field: '', expected: error.detail ?? 'something else' }]).map(({ field, expected }) => ({ field: field === '' ? `setUp.${place}` : `setUp.${place}.${field}`, expected })));
    } finally {
      this.read = undefined;
    }
  }
}

export const refuseAt = (field: string, expected: string): never => { throw new Problem('invalid-input', undefined, [{ field: `setUp.${field}`, expected }]); };

const said = (value: unknown): string | null => (value === null || value === undefined ? null : typeof value === 'string' ? value : JSON.stringify(value));

/** What differs between what the plant has and what the file says, of the fields that the file has. */
function changedFields(before: Values, after: Values): SetUpChange['fields'] {
  return Object.keys(after).filter((field) => said(before[field]) !== said(after[field])).map((field) => ({ field, before: said(before[field]), after: said(after[field]) }));
}

/** The fields of a row that another one has, too, in its order: so that two of them compare. */
export const like = (shape: Values, row: Values): Values => Object.fromEntries(Object.keys(shape).map((field) => [field, row[field]]));
