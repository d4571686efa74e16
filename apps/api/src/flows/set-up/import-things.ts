import type { PlantSetUp } from '#contract/plant-set-up';
import { addGauge, editGauge } from '../../inspections/gauges.js';
import { addProduct, editProduct } from '../../plant/set-up.js';
import { addCharacteristic, editCharacteristic } from '../../specifications/set-up.js';
import { like, refuseAt, type SetUpRun } from './set-up-run.js';

const byCode = <Row extends { code: string }>(rows: readonly Row[]) => new Map(rows.map((row) => [row.code, row]));
/** What a characteristic is cannot change while readings hang on it. */
const FIXED = ['unit', 'kind', 'stepKind', 'formula'] as const;

export async function importProducts(run: SetUpRun, products: PlantSetUp['products']): Promise<void> {
  const known = byCode((await run.tree()).products);
  for (const [row, product] of products.entries()) {
    const { code, retired, ...fields } = product;
    const present = known.get(code);
    await run.row('products', row, code, present && like(product, present), product, 'make', async () => {
      if (present) return editProduct(run.work, run.actor, present.id, { ...fields, retired }, run.now);
      const { id } = await addProduct(run.work, run.actor, { code, ...fields });
      return retired ? editProduct(run.work, run.actor, id, { ...fields, retired }, run.now) : undefined;
    });
  }
}

export async function importCharacteristics(run: SetUpRun, characteristics: PlantSetUp['characteristics']): Promise<void> {
  const known = byCode((await run.tree()).characteristics);
  for (const [row, characteristic] of characteristics.entries()) {
    const { code, name, gaugeStep, decimals, plausibleLow, plausibleHigh, chartKind, basis } = characteristic;
    const present = known.get(code);
    const other = present && FIXED.find((field) => present[field] !== characteristic[field]);
    if (present && other) refuseAt(`characteristics.${row}.${other}`, `${present[other] ?? 'none'}, as the plant has it: this stays, because readings hang on it. Use another code for another thing`);
    await run.row('characteristics', row, code, present && like(characteristic, present), characteristic, 'make', () => (present
      ? editCharacteristic(run.work, run.actor, present.id, { name, gaugeStep, decimals, plausibleLow, plausibleHigh, chartKind, basis })
      : addCharacteristic(run.work, run.actor, characteristic)));
  }
}

export async function importGauges(run: SetUpRun, gauges: PlantSetUp['gauges']): Promise<void> {
  const known = byCode((await run.tree()).gauges);
  const day = (text: string | null) => (text === null ? null : new Date(text).toISOString());
  for (const [row, gauge] of gauges.entries()) {
    const { code, retired, ...fields } = gauge;
    const present = known.get(code);
    const before = present && { ...like(gauge, present), calibrationDue: day(present.calibrationDue) };
    await run.row('gauges', row, code, before, { ...gauge, calibrationDue: day(gauge.calibrationDue) }, 'make', async () => {
      if (present) return editGauge(run.work, run.actor, present.id, { ...fields, retired }, run.now);
      const { id } = await addGauge(run.work, run.actor, { code, ...fields });
      return retired ? editGauge(run.work, run.actor, id, { ...fields, retired }, run.now) : undefined;
    });
  }
}
