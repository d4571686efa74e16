import type { SeedPlant } from '../../../../../seed/plant-types.js';
import type { Tx } from '../../platform/work.js';

/** Codes of the demo plant to the ids that the database gave them. Units and lanes are named "MACHINE/UNIT" and "LINE/LANE". */
export type DemoIds = {
  plantId: number; lines: Map<string, number>; machines: Map<string, number>; units: Map<string, number>; lanes: Map<string, number>;
  products: Map<string, number>; characteristics: Map<string, number>; gauges: Map<string, number>; users: Map<string, number>; plans: Map<string, number>;
};

/**
 * Writes the demo plant's master data: the one place outside the features that writes their tables, since a whole plant
 * at once is not an act that a person could do. Runs once, on an empty database.
 */
export async function insertDemoMaster(tx: Tx, seed: SeedPlant, passwordHash: string, effectiveFrom: Date, endsAt: Date): Promise<DemoIds> {
  const plant = await tx.plant.create({ data: { name: seed.name, timeZone: seed.timeZone, demo: true } });
  const plantId = plant.id;
  const ids: DemoIds = { plantId, lines: new Map(), machines: new Map(), units: new Map(), lanes: new Map(), products: new Map(), characteristics: new Map(), gauges: new Map(), users: new Map(), plans: new Map() };
  for (const [lineIndex, line] of seed.lines.entries()) {
    const lineId = (await tx.line.create({ data: { plantId, code: line.code, name: line.name, position: lineIndex + 1 } })).id;
    ids.lines.set(line.code, lineId);
    for (const [index, lane] of line.lanes.entries()) ids.lanes.set(`${line.code}/${lane.code}`, (await tx.lane.create({ data: { plantId, lineId, code: lane.code, name: lane.name, position: index + 1 } })).id);
    const steps = new Map<string, number>();
    for (const [stepIndex, step] of line.steps.entries()) {
      const stepId = (await tx.step.create({ data: { plantId, lineId, kind: step.kind, position: stepIndex + 1 } })).id;
      steps.set(step.kind, stepId);
      for (const machine of step.machines) {
        const machineId = (await tx.machine.create({ data: { plantId, stepId, code: machine.code, name: machine.name } })).id;
        ids.machines.set(machine.code, machineId);
        for (const [index, unit] of machine.units.entries()) ids.units.set(`${machine.code}/${unit.code}`, (await tx.unit.create({ data: { plantId, machineId, code: unit.code, position: index + 1 } })).id);
      }
    }
    await tx.stretch.createMany({ data: line.stretches.map(({ from, to, ...bounds }) => ({ plantId, lineId, fromStepId: need(steps, from), toStepId: need(steps, to), ...bounds })) });
  }
  for (const product of seed.products) ids.products.set(product.code, (await tx.product.create({ data: { plantId, ...product } })).id);
  for (const { rules: _rules, ...characteristic } of seed.characteristics) ids.characteristics.set(characteristic.code, (await tx.characteristic.create({ data: { plantId, ...characteristic } })).id);
  for (const { calibrationDueInDays, ...gauge } of seed.gauges) ids.gauges.set(gauge.code, (await tx.gauge.create({ data: { plantId, ...gauge, calibrationDue: new Date(endsAt.getTime() + calibrationDueInDays * 86_400_000) } })).id);
  for (const user of seed.users) ids.users.set(user.login, (await tx.user.create({ data: { plantId, ...user, passwordHash, demoPassword: true } })).id);
  // The auditor of the first product's customer, for the ninety days to the end of the last one, so that a pack of whole days lies within, with a month to look at them.
  const [audited] = seed.products;
  const scopes = audited ? seed.users.filter(({ role }) => role === 'auditor').map(({ login }) => ({ plantId, userId: need(ids.users, login), customer: audited.customer, fromAt: effectiveFrom, untilAt: new Date(endsAt.getTime() + 86_400_000), expiresAt: new Date(endsAt.getTime() + 30 * 86_400_000) })) : [];
  await tx.auditorScope.createMany({ data: scopes });
  const authorId = need(ids.users, seed.users.find((user) => user.role === 'engineer')?.login ?? '');
  await tx.specification.createMany({ data: seed.specifications.map(({ productCode, characteristicCode, ...specification }) => ({ plantId, ...specification, productId: need(ids.products, productCode), characteristicId: need(ids.characteristics, characteristicCode), revision: 1, effectiveFrom, authorId })) });
  await proposeNarrower(tx, plantId, seed, ids, endsAt);
  for (const plan of seed.checkPlans) {
    const row = await tx.checkPlan.create({ data: {
      plantId, machineId: need(ids.machines, plan.machineCode), productId: need(ids.products, plan.productCode), name: plan.name, cans: plan.cans, perUnit: plan.perUnit, perLane: plan.perLane,
      positions: plan.positions, characteristics: plan.characteristics, everyMinutes: plan.everyMinutes, intervalSource: plan.intervalSource, openedBy: plan.openedBy, longStopMinutes: plan.longStopMinutes, eventsSource: plan.eventsSource,
    } });
    ids.plans.set(plan.code, row.id);
  }
  const author = seed.users.find((user) => user.role === 'engineer')?.name ?? '';
  await tx.reactionPlan.createMany({ data: seed.reactionPlans.map(({ characteristicCode, stepKind, steps, reason }) => ({ plantId, characteristicId: need(ids.characteristics, characteristicCode), stepKind, version: 1, steps, author, authorId, reason, at: effectiveFrom })) });
  return ids;
}

const DAY = 86_400_000;

/** One revision waits, so that there is something to approve: the overlap 0.02 mm narrower on each side, from in two weeks on. It judges nothing. */
async function proposeNarrower(tx: Tx, plantId: number, seed: SeedPlant, ids: DemoIds, endsAt: Date): Promise<void> {
  const present = seed.specifications.find((row) => row.characteristicCode === 'weld-overlap' && row.lsl !== null && row.usl !== null);
  const author = seed.users.filter((user) => user.role === 'engineer').at(-1);
  if (!present || !author) return;
  const hundredths = (value: number) => Math.round(value * 100) / 100;
  await tx.specification.create({ data: {
    plantId, productId: need(ids.products, present.productCode), characteristicId: need(ids.characteristics, present.characteristicCode), revision: 2, state: 'proposed', lsl: hundredths((present.lsl ?? 0) + 0.02), target: present.target, usl: hundredths((present.usl ?? 0) - 0.02),
    effectiveFrom: new Date(endsAt.getTime() + 14 * DAY), authorId: need(ids.users, author.login), reason: 'The customer asks for a narrower overlap after the last audit.', createdAt: new Date(endsAt.getTime() - DAY),
  } });
}

/** The id of a code; a seed that names something it does not define is a mistake in the seed. */
export function need(ids: ReadonlyMap<string, number>, code: string): number {
  const id = ids.get(code);
  if (id === undefined) throw new Error(`the demo plant names "${code}" but does not define it`);
  return id;
}
