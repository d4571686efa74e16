import { USUAL_NEAR_EDGE } from '#canmaking/weld/tested-window';
import type { Calendar } from '../../../../../seed/calendar.js';
import type { SeedWeldWindow } from '../../../../../seed/weld-windows.js';
import type { Tx } from '../../platform/work.js';
import { type DemoIds, need } from './demo-master.store.js';

/** The window tests of the demo plant, each in force from half an hour after its test. */
export async function insertDemoWeldWindows(tx: Tx, ids: DemoIds, windows: readonly SeedWeldWindow[], calendar: Calendar, author: { id: number; name: string }): Promise<void> {
  // What the monitor measures is made after the plant, so it is not among its codes.
  const characteristics = new Map((await tx.characteristic.findMany({ where: { plantId: ids.plantId }, select: { code: true, id: true } })).map(({ code, id }) => [code, id]));
  const versions = new Map<string, number>();
  const rows = windows.map(({ lineCode, machineCode, productCode, characteristicCode, tested, reason, ...window }) => {
    const place = `${lineCode} ${machineCode} ${productCode} ${characteristicCode}`;
    const version = (versions.get(place) ?? 0) + 1;
    versions.set(place, version);
    const [testedAt, from] = [calendar.at(tested.day, tested.hour), calendar.at(tested.day, tested.hour + 0.5)].map((at) => new Date(at));
    return {
      plantId: ids.plantId, lineId: machineCode === null ? need(ids.lines, lineCode) : null, machineId: machineCode === null ? null : need(ids.machines, machineCode), productId: need(ids.products, productCode), characteristicId: need(characteristics, characteristicCode),
      version, ...window, nearEdge: USUAL_NEAR_EDGE, testedAt, effectiveFrom: from as Date, author: author.name, authorId: author.id, reason, at: from as Date,
    };
  });
  await tx.weldWindow.createMany({ data: rows });
}
