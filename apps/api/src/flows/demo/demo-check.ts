import type { NewCheck } from '#contract/inspections';
import type { SimulatedCheck } from '../../../../../seed/simulated.js';
import { type DemoIds, need } from './demo-master.store.js';

/** A simulated check as a technician would have sent it. */
export function demoCheck(check: SimulatedCheck, ids: DemoIds, lineCode: string, names: ReadonlyMap<string, string>): NewCheck {
  return {
    key: `demo:${check.key}`, machineId: need(ids.machines, check.machineCode), productId: need(ids.products, check.productCode), planId: need(ids.plans, check.planCode),
    takenAt: new Date(check.takenAt).toISOString(), inspector: names.get(check.inspector) ?? check.inspector,
    cans: check.cans.map((can) => ({
      number: can.number,
      ...(can.unitCode === null ? {} : { unitId: need(ids.units, `${check.machineCode}/${can.unitCode}`) }),
      ...(can.laneCode === null ? {} : { laneId: need(ids.lanes, `${lineCode}/${can.laneCode}`) }),
    })),
    positions: check.positions,
    characteristics: Object.entries(check.readings).map(([code, readings]) => {
      const gauge = check.gaugeByCharacteristic[code];
      return { code, readings, ...(gauge === undefined ? {} : { gaugeId: need(ids.gauges, gauge) }) };
    }),
    ...(check.note === undefined ? {} : { note: check.note }),
    confirmed: true,
  };
}
