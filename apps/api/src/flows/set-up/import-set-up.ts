import type { PlantSetUp, SetUpReport } from '#contract/plant-set-up';
import { type Actor, record } from '../../platform/audit.js';
import type { Work } from '../../platform/work.js';
import { importLines } from './import-lines.js';
import { importCanCodes, importCheckPlans, importReactionPlans, importShifts, importSpecifications, importSynonyms } from './import-plans.js';
import { importCharacteristics, importGauges, importProducts } from './import-things.js';
import { SetUpRun } from './set-up-run.js';

/** Ends a preview after everything was tried: the transaction is taken back. */
class OnlyLooked extends Error {
  constructor(readonly report: SetUpReport) { super('only looked'); }
}

const MINUTE = 60_000;

/** Makes and changes what the file says, by the same acts as the screens; all or nothing. A preview does all of it and takes it back. */
export async function importSetUp(work: Work, actor: Actor & { userId: number }, { setUp, reason }: { setUp: PlantSetUp; reason: string }, now: Date, { isPreview }: { isPreview: boolean }): Promise<SetUpReport> {
  try {
    return await work.run(async (tx) => {
      const run = new SetUpRun(work.within(tx), tx, actor, reason, now);
      await importLines(run, setUp.lines);
      await importProducts(run, setUp.products);
      await importCharacteristics(run, setUp.characteristics);
      await importGauges(run, setUp.gauges);
      await importSpecifications(run, setUp.specifications);
      await importCheckPlans(run, setUp.checkPlans);
      await importReactionPlans(run, setUp.reactionPlans);
      await importShifts(run, setUp.shifts);
      await importSynonyms(run, setUp.synonyms);
      await importCanCodes(run, setUp.canCodes);
      if (isPreview) throw new OnlyLooked(run.report);
      await record(tx, actor, 'set-up.imported', `plant ${actor.plantId}`, { after: { from: setUp.plant, reason, changes: run.report.changes.length } });
      return run.report;
    }, 2 * MINUTE);
  } catch (error) {
    if (error instanceof OnlyLooked) return error.report;
    throw error;
  }
}
