import { Problem } from '#contract/problem';
import { isFormula } from '../specifications/formulas.js';
import type { Tx } from '../platform/work.js';
import type { FormulaId } from '#canmaking/seam/derive';

export type Characteristic = { id: number; code: string; name: string; kind: string; gaugeStep: number; plausibleLow: number | null; plausibleHigh: number | null; formula: FormulaId | null };
export type MasterData = {
  products: Map<number, { id: number; code: string; bodyPlate: number; endPlate: number; overlapFactor: number }>;
  machines: Map<number, { id: number; code: string; lineId: number; unitIds: Set<number>; laneIds: Set<number> }>;
  characteristics: Map<string, Characteristic>;
  /** Those of them that are derived from others. */
  derivable: { id: number; code: string; formula: FormulaId }[];
  gaugeIds: Set<number>;
  plans: Map<number, { id: number; name: string; machineId: number; productId: number }>;
};

/** What a check refers to, by one statement: machines with their units and lanes, products, characteristics, gauges, check plans. */
export async function loadMasterData(tx: Tx, plantId: number): Promise<MasterData> {
  const [row] = await tx.$queryRaw<{ products: MasterDataRows['products']; machines: MasterDataRows['machines']; characteristics: MasterDataRows['characteristics']; gauges: number[]; plans: MasterDataRows['plans'] }[]>`
    /* named: master-data */ SELECT
      (SELECT coalesce(jsonb_agg(jsonb_build_object('id', id, 'code', code, 'bodyPlate', body_plate, 'endPlate', end_plate, 'overlapFactor', overlap_factor)), '[]') FROM product WHERE plant_id = ${plantId}) AS products,
      (SELECT coalesce(jsonb_agg(jsonb_build_object('id', m.id, 'code', m.code, 'lineId', s.line_id,
        'units', ARRAY(SELECT u.id FROM unit u WHERE u.plant_id = m.plant_id AND u.machine_id = m.id),
        'lanes', ARRAY(SELECT l.id FROM lane l WHERE l.plant_id = m.plant_id AND l.line_id = s.line_id))), '[]')
        FROM machine m JOIN step s ON s.plant_id = m.plant_id AND s.id = m.step_id WHERE m.plant_id = ${plantId}) AS machines,
      (SELECT coalesce(jsonb_agg(jsonb_build_object('id', id, 'code', code, 'name', name, 'kind', kind, 'gaugeStep', gauge_step, 'plausibleLow', plausible_low, 'plausibleHigh', plausible_high, 'formula', formula)), '[]') FROM characteristic WHERE plant_id = ${plantId}) AS characteristics,
      (SELECT coalesce(jsonb_agg(id), '[]') FROM gauge WHERE plant_id = ${plantId}) AS gauges,
      (SELECT coalesce(jsonb_agg(jsonb_build_object('id', id, 'name', name, 'machineId', machine_id, 'productId', product_id)), '[]') FROM check_plan WHERE plant_id = ${plantId}) AS plans`;
  if (!row) throw new Problem('internal');
  const characteristics = row.characteristics.map((characteristic): Characteristic => ({ ...characteristic, formula: isFormula(characteristic.formula) ? characteristic.formula : null }));
  return {
    products: new Map(row.products.map((product) => [product.id, product])),
    machines: new Map(row.machines.map((machine) => [machine.id, { ...machine, unitIds: new Set(machine.units), laneIds: new Set(machine.lanes) }])),
    characteristics: new Map(characteristics.map((characteristic) => [characteristic.code, characteristic])),
    derivable: characteristics.flatMap(({ id, code, formula }) => (formula ? [{ id, code, formula }] : [])),
    gaugeIds: new Set(row.gauges),
    plans: new Map(row.plans.map((plan) => [plan.id, plan])),
  };
}

type MasterDataRows = {
  plans: { id: number; name: string; machineId: number; productId: number }[];
  products: { id: number; code: string; bodyPlate: number; endPlate: number; overlapFactor: number }[];
  machines: { id: number; code: string; lineId: number; units: number[]; lanes: number[] }[];
  characteristics: { id: number; code: string; name: string; kind: string; gaugeStep: number; plausibleLow: number | null; plausibleHigh: number | null; formula: string | null }[];
};
