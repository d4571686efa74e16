import { type FormulaId, formulaIds, formulas } from '#canmaking/seam/derive';
import type { Measured, Sheet, SheetCharacteristic } from './entry-draft.js';
import type { LogView } from './log.url.js';
import { cansOf } from './sheet-units.js';

/** What the entry screen needs of the plant's set-up. */
export type EntryPlant = {
  machines: { id: number; code: string; name: string; line: string; units: { id: number; code: string }[]; lanes: { id: number; code: string }[] }[];
  products: { id: number; code: string; name: string; bodyPlate: number; endPlate: number; overlapFactor: number }[];
  plans: { id: number; name: string; machineId: number; productId: number; cans: number; perUnit: boolean; perLane: boolean; positions: string[]; characteristics: string[] }[];
  characteristics: (SheetCharacteristic & { id: number; kind: string; gaugeStep: number; plausibleLow: number | null; plausibleHigh: number | null; formula: string | null })[];
  /** The revisions in force when the plant was read. */
  specifications: { productId: number; characteristicId: number; revision: number; lsl: number | null; target: number | null; usl: number | null }[];
  gauges: Sheet['gauges'];
};

/** What may be chosen, and what is: whatever has only one possibility is chosen by itself. */
export function choices(plant: EntryPlant, view: Omit<LogView, 'units'>) {
  const machines = plant.machines.filter((machine) => plant.plans.some((plan) => plan.machineId === machine.id));
  const machine = machines.find(({ id }) => id === view.machine) ?? (view.machine === null && machines.length === 1 ? machines[0] : undefined);
  const ofMachine = plant.plans.filter((plan) => plan.machineId === machine?.id);
  const products = plant.products.filter((product) => ofMachine.some((plan) => plan.productId === product.id));
  // A plan names its product, so a link to a plan needs no more than that.
  const wanted = view.product ?? ofMachine.find((plan) => plan.id === view.plan)?.productId;
  const product = products.find(({ id }) => id === wanted) ?? (products.length === 1 ? products[0] : undefined);
  const plans = ofMachine.filter((plan) => plan.productId === product?.id);
  const plan = plans.find(({ id }) => id === view.plan) ?? (plans.length === 1 ? plans[0] : undefined);
  return { machines, products, plans, machine, product, plan };
}

/** The sheet of a plan with all its cans: for the machine, or for each unit, for each lane, or for each of both. */
export function sheetOf(plant: EntryPlant, { machine, product, plan }: Pick<ReturnType<typeof choices>, 'machine' | 'product' | 'plan'>): Sheet | null {
  if (!machine || !product || !plan) return null;
  const every = { units: plan.perUnit ? machine.units : [], lanes: plan.perLane ? machine.lanes : [], cans: plan.cans };
  const named = ({ code, name, unit, decimals }: SheetCharacteristic): SheetCharacteristic => ({ code, name, unit, decimals });
  const asked = plan.characteristics.flatMap((code) => plant.characteristics.filter((entry) => entry.code === code && entry.formula === null));
  const measured = asked.filter(({ kind }) => kind !== 'attribute').map((entry): Measured => ({
    ...named(entry), rating: entry.kind === 'rating', gaugeStep: entry.gaugeStep, low: entry.plausibleLow, high: entry.plausibleHigh,
    specification: specificationOf(plant, product.id, entry.id),
  }));
  const codes = new Set(measured.filter(({ rating }) => !rating).map(({ code }) => code));
  const derived = plant.characteristics.flatMap((entry) => (isFormula(entry.formula) && formulas[entry.formula].inputs.every((input) => codes.has(input)) ? [{ ...named(entry), formula: entry.formula }] : []));
  return {
    machine: { id: machine.id, code: machine.code, name: machine.name }, product, plan: { id: plan.id, name: plan.name },
    every, cans: cansOf(every), positions: plan.positions, measured, counted: asked.filter(({ kind }) => kind === 'attribute').map(named), derived, gauges: plant.gauges,
  };
}

const isFormula = (text: string | null): text is FormulaId => text !== null && (formulaIds as readonly string[]).includes(text);

function specificationOf({ specifications }: EntryPlant, productId: number, characteristicId: number): Measured['specification'] {
  const found = specifications.find((entry) => entry.productId === productId && entry.characteristicId === characteristicId);
  return found ? { revision: found.revision, lsl: found.lsl, target: found.target, usl: found.usl } : null;
}
