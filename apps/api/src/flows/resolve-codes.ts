import { type NewCheck, newCheck, type SentCheck } from '#contract/inspections';
import { type FieldError, Problem } from '#contract/problem';
import type { Tx } from '../platform/work.js';

export type Codes = {
  machines: { id: number; code: string; units: Record<string, number>; lanes: Record<string, number> }[];
  products: Record<string, number>; gauges: Record<string, number>;
};

/** What codes of the plant mean, by one statement. */
export async function loadCodes(tx: Tx, plantId: number): Promise<Codes> {
  const [row] = await tx.$queryRaw<Codes[]>`
    /* named: codes */ SELECT
      (SELECT coalesce(jsonb_agg(jsonb_build_object('id', m.id, 'code', m.code,
        'units', (SELECT coalesce(jsonb_object_agg(u.code, u.id), '{}') FROM unit u WHERE u.plant_id = m.plant_id AND u.machine_id = m.id),
        'lanes', (SELECT coalesce(jsonb_object_agg(l.code, l.id), '{}') FROM lane l WHERE l.plant_id = m.plant_id AND l.line_id = s.line_id))), '[]')
        FROM machine m JOIN step s ON s.plant_id = m.plant_id AND s.id = m.step_id WHERE m.plant_id = ${plantId}) AS machines,
      (SELECT coalesce(jsonb_object_agg(code, id), '{}') FROM product WHERE plant_id = ${plantId}) AS products,
      (SELECT coalesce(jsonb_object_agg(code, id), '{}') FROM gauge WHERE plant_id = ${plantId}) AS gauges`;
  if (!row) throw new Problem('internal');
  return row;
}

/** The check with ids for codes; a code that means nothing is refused by field. The same check by codes and by ids has the same content. */
export function resolveCodes(sent: SentCheck, codes: Codes): NewCheck {
  const errors: FieldError[] = [];
  const idOf = (field: string, known: Record<string, number>, code: string | undefined, id: number | undefined, expected: string) => {
    if (code === undefined) return id;
    const found = Object.hasOwn(known, code) ? known[code] : undefined;
    if (found === undefined) errors.push({ field, expected: `${expected}, not "${code}"` });
    return found;
  };
  const machineId = idOf('machine', Object.fromEntries(codes.machines.map(({ code, id }) => [code, id])), sent.machine, sent.machineId, 'the code of a machine of this plant');
  const machine = codes.machines.find(({ id }) => id === machineId);
  const productId = idOf('product', codes.products, sent.product, sent.productId, 'the code of a product of this plant');
  const cans = sent.cans.map((can, index) => ({
    ...can,
    unitId: idOf(`cans.${index}.unit`, machine?.units ?? {}, can.unit, can.unitId, `the code of a unit of machine ${machine?.code ?? '(unknown)'}`),
    laneId: idOf(`cans.${index}.lane`, machine?.lanes ?? {}, can.lane, can.laneId, `the code of a lane of the line of machine ${machine?.code ?? '(unknown)'}`),
  }));
  const characteristics = sent.characteristics.map((entry, index) => ({
    ...entry, gaugeId: idOf(`characteristics.${index}.gauge`, codes.gauges, entry.gauge, entry.gaugeId, 'the code of a gauge of this plant'),
  }));
  if (errors.length > 0) throw new Problem('invalid-input', errors[0] && `${errors[0].field}: ${errors[0].expected}`, errors.slice(0, 50));
  const without = (value: object) => Object.fromEntries(Object.entries(value).filter(([, part]) => part !== undefined));
  return newCheck.parse({ ...sent, machineId, productId, cans: cans.map(without), characteristics: characteristics.map(without) });
}
