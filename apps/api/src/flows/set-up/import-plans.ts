import type { PlantSetUp } from '#contract/plant-set-up';
import type { PlantTree } from '#contract/plant';
import { Problem } from '#contract/problem';
import { patternsView, savePattern, tryPattern } from '../../can-codes/can-codes.js';
import { addSynonyms, changeSynonyms } from '../../knowledge/set-synonyms.js';
import { listGroupViews } from '../../knowledge/synonym-groups.store.js';
import { putShifts, shiftsOf } from '../../plant/shifts.js';
import { newestPlans, writePlan } from '../../specifications/reaction-plans.js';
import { addCheckPlan, addSpecification, editCheckPlan } from '../../specifications/set-up.js';
import { listRevisions } from '../../specifications/set-up.store.js';
import { like, refuseAt, type SetUpRun } from './set-up-run.js';

type Coded = { id: number; code: string };
/** The id of a code, or a refusal that names the field of the file. */
const idOf = (rows: readonly Coded[], code: string, field: string, what: string): number => rows.find((row) => row.code === code)?.id ?? refuseAt(field, `a ${what} of the plant or of this file, not "${code}"`);
const machinesOf = (tree: PlantTree) => tree.lines.flatMap((line) => line.steps.flatMap((step) => step.machines));

/** What differs from what is in force, and does not wait already, is proposed: an import approves nothing. */
export async function importSpecifications(run: SetUpRun, specifications: PlantSetUp['specifications']): Promise<void> {
  const tree = await run.tree();
  const waiting = await listRevisions(run.tx, run.actor.plantId, undefined, undefined, 'proposed');
  for (const [row, { product, characteristic, effectiveFrom, ...limits }] of specifications.entries()) {
    const at = `specifications.${row}`;
    const [productId, characteristicId] = [idOf(tree.products, product, `${at}.product`, 'product'), idOf(tree.characteristics, characteristic, `${at}.characteristic`, 'characteristic')];
    const known = [...waiting, ...tree.specifications].filter((each) => each.productId === productId && each.characteristicId === characteristicId).map(({ lsl, target, usl }) => ({ lsl, target, usl }));
    const before = known.find((each) => each.lsl === limits.lsl && each.target === limits.target && each.usl === limits.usl) ?? known.at(-1);
    await run.row('specifications', row, `${product} ${characteristic}`, before, limits, 'propose', () => addSpecification(run.work, run.actor, { productId, characteristicId, ...limits, effectiveFrom, reason: run.reason }));
  }
}

export async function importCheckPlans(run: SetUpRun, plans: PlantSetUp['checkPlans']): Promise<void> {
  const tree = await run.tree();
  for (const [row, plan] of plans.entries()) {
    const { machine, product, retired, ...sheet } = plan;
    const [machineId, productId] = [idOf(machinesOf(tree), machine, `checkPlans.${row}.machine`, 'machine'), idOf(tree.products, product, `checkPlans.${row}.product`, 'product')];
    const present = tree.checkPlans.find((each) => each.machineId === machineId && each.productId === productId && each.name === plan.name);
    const after = { ...sheet, retired };
    await run.row('checkPlans', row, `${machine} ${product} ${plan.name}`, present && like(after, present), after, 'make', async () => {
      if (present) return editCheckPlan(run.work, run.actor, present.id, { ...sheet, retired, reason: run.reason }, run.now);
      const { id } = await addCheckPlan(run.work, run.actor, { machineId, productId, ...sheet, reason: run.reason }, run.now);
      return retired ? editCheckPlan(run.work, run.actor, id, { ...sheet, retired, reason: run.reason }, run.now) : undefined;
    });
  }
}

export async function importReactionPlans(run: SetUpRun, plans: PlantSetUp['reactionPlans']): Promise<void> {
  const [tree, newest] = [await run.tree(), await newestPlans(run.tx, run.actor.plantId)];
  for (const [row, { characteristic, stepKind, steps }] of plans.entries()) {
    const characteristicId = idOf(tree.characteristics, characteristic, `reactionPlans.${row}.characteristic`, 'characteristic');
    const present = newest.find(({ scope }) => scope.kind === 'step' && scope.characteristicId === characteristicId && scope.stepKind === stepKind);
    await run.row('reactionPlans', row, `${characteristic} ${stepKind}`, present && { steps: present.steps }, { steps }, 'make', () => writePlan(run.tx, run.actor, { scope: { kind: 'step', characteristicId, stepKind }, steps, reason: run.reason, after: present?.version ?? 0 }, run.now));
  }
}

/** Shifts of the file by their names; others stay, as long as no two are on at once. */
export async function importShifts(run: SetUpRun, shifts: PlantSetUp['shifts']): Promise<void> {
  const present = await shiftsOf(run.tx, run.actor.plantId);
  const merged = [...present.filter((shift) => !shifts.some(({ name }) => name === shift.name)), ...shifts];
  const changed = shifts.filter((shift) => JSON.stringify(shift) !== JSON.stringify(present.find(({ name }) => name === shift.name)));
  if (changed.length > 0) await putShifts(run.work, run.actor, merged).catch((error: unknown) => {
    if (!(error instanceof Problem)) throw error;
    return refuseAt('shifts', `shifts that the plant can have beside those it has: ${error.errors?.map(({ expected }) => expected).join('; ') ?? error.message}`);
  });
  for (const [row, shift] of shifts.entries()) {
    const before = present.find(({ name }) => name === shift.name);
    await run.row('shifts', row, shift.name, before && like(shift, before), shift, 'make', async () => {});
  }
}

/** Words are added to the group with the same preferred word; none is taken away. */
export async function importSynonyms(run: SetUpRun, groups: PlantSetUp['synonyms']): Promise<void> {
  const present = (await listGroupViews(run.tx, run.actor.plantId)).filter(({ retired }) => !retired);
  for (const [row, { preferred, others }] of groups.entries()) {
    const group = present.find((each) => each.preferred.toLowerCase() === preferred.toLowerCase());
    const words = [...new Set([...(group?.others ?? []), ...others])];
    await run.row('synonyms', row, preferred, group && { others: group.others }, { others: words }, 'make', () => (group
      ? changeSynonyms(run.tx, run.actor, group.id, { preferred: group.preferred, others: words, retired: false, revision: group.revision, reason: run.reason }, run.now)
      : addSynonyms(run.tx, run.actor, { preferred, others, reason: run.reason }, run.now)));
  }
}

/** A pattern comes in with its example, when that has one meaning here: where it has several, a person has to confirm one. */
export async function importCanCodes(run: SetUpRun, codes: PlantSetUp['canCodes']): Promise<void> {
  const [tree, patterns] = [await run.tree(), await patternsView(run.tx, run.actor.plantId, run.now)];
  for (const [row, { line: code, codedAtStep, effectiveFrom, ...pattern }] of codes.entries()) {
    const at = `canCodes.${row}`;
    const lineId = idOf(tree.lines, code, `${at}.line`, 'line');
    const codedAtStepId = tree.lines.find(({ id }) => id === lineId)?.steps[codedAtStep - 1]?.id ?? refuseAt(`${at}.codedAtStep`, `a step of line ${code}`);
    const present = patterns.find((each) => each.lineId === lineId && each.pattern === pattern.pattern && (each.state === 'in-force' || each.state === 'planned'));
    await run.row('canCodes', row, `${code} ${pattern.pattern}`, present && like(pattern, present), pattern, 'make', async () => {
      const body = { ...pattern, lineId, codedAtStepId, effectiveFrom, reason: run.reason };
      const { meanings } = await tryPattern(run.tx, run.actor.plantId, body, run.now);
      const [only, more] = meanings;
      if (!only || more) refuseAt(`${at}.example`, `a code that the pattern reads in one way here; it has ${meanings.length}. Enter this pattern under Can codes, where a person confirms the meaning`);
      else await savePattern(run.tx, run.actor, { ...body, confirmed: only }, run.now);
    });
  }
}
