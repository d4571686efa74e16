import type { PlantTree } from '#contract/plant';
import { type PlantSetUp, plantSetUp } from '#contract/plant-set-up';
import { patternsView } from '../../can-codes/can-codes.js';
import { listPlantGroups } from '../../knowledge/synonym-groups.store.js';
import { findPlantTree } from '../../plant/plant-tree.store.js';
import { shiftsOf } from '../../plant/shifts.js';
import type { Tx } from '../../platform/work.js';
import { newestPlans } from '../../specifications/reaction-plans.js';

/** How a plant is set up, by codes: what `importSetUp` takes. */
export async function exportSetUp(tx: Tx, plantId: number, now: Date): Promise<PlantSetUp> {
  const tree = await findPlantTree(tx, plantId);
  const names = namesOf(tree);
  const [shifts, synonyms, plans, patterns] = [await shiftsOf(tx, plantId), await listPlantGroups(tx, plantId), await newestPlans(tx, plantId), await patternsView(tx, plantId, now)];
  return plantSetUp.parse({
    format: 1, plant: { name: tree.plant.name, timeZone: tree.plant.timeZone },
    lines: tree.lines.map((line) => ({
      ...line, steps: line.steps.map(({ kind, machines }) => ({ kind, machines: machines.map((machine) => ({ ...machine, units: machine.units.map((unit) => unit.code) })) })),
      stretches: line.stretches.map((stretch) => ({ ...stretch, fromStep: placeOf(line, stretch.fromStepId), toStep: placeOf(line, stretch.toStepId) })),
    })),
    products: tree.products, characteristics: tree.characteristics, gauges: tree.gauges,
    specifications: tree.specifications.map((row) => ({ ...row, product: names.product(row.productId), characteristic: names.characteristic(row.characteristicId) })),
    checkPlans: tree.checkPlans.map((plan) => ({ ...plan, machine: names.machine(plan.machineId), product: names.product(plan.productId) })),
    reactionPlans: plans.flatMap(({ scope, steps }) => (scope.kind === 'step' && steps.length > 0 ? [{ characteristic: names.characteristic(scope.characteristicId), stepKind: scope.stepKind, steps }] : [])),
    shifts, synonyms,
    canCodes: patterns.filter(({ state }) => state === 'in-force' || state === 'planned').map((pattern) => {
      const line = tree.lines.find(({ id }) => id === pattern.lineId);
      return { ...pattern, line: line?.code, codedAtStep: line && placeOf(line, pattern.codedAtStepId) };
    }),
  });
}

const placeOf = (line: PlantTree['lines'][number], stepId: number) => line.steps.findIndex((step) => step.id === stepId) + 1;

function namesOf(tree: PlantTree) {
  const codes = (rows: readonly { id: number; code: string }[]) => { const byId = new Map(rows.map((row) => [row.id, row.code])); return (id: number) => byId.get(id); };
  return { product: codes(tree.products), characteristic: codes(tree.characteristics), machine: codes(tree.lines.flatMap((line) => line.steps.flatMap((step) => step.machines))) };
}
