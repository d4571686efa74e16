import type { PlantTree } from '#contract/plant';
import type { EntryPlant } from './sheet.js';

/** What of the plant's set-up can be used for a new check: nothing that is retired. */
export function entryPlant(tree: PlantTree): EntryPlant {
  return {
    machines: tree.lines.flatMap((line) => line.steps.flatMap((step) => step.machines.filter(({ retired }) => !retired).map(({ id, code, name, units }) => ({
      id, code, name, line: `${line.code} ${line.name}`, units: [...units].sort((a, b) => a.position - b.position), lanes: [...line.lanes].sort((a, b) => a.position - b.position),
    })))),
    products: tree.products.filter(({ retired }) => !retired),
    plans: tree.checkPlans.filter(({ retired }) => !retired),
    characteristics: tree.characteristics,
    specifications: tree.specifications,
    gauges: tree.gauges.filter(({ retired }) => !retired),
  };
}
