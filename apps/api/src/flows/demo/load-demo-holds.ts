import type { Calendar } from '../../../../../seed/calendar.js';
import type { SeedHold } from '../../../../../seed/holds.js';
import type { SeedIncident } from '../../../../../seed/incident-types.js';
import { lineOfMachine } from '../../../../../seed/plant.js';
import type { SeedUser } from '../../../../../seed/plant-types.js';
import { dispose, move, place, sample } from '../../holds/change-hold.js';
import { computeFor } from '../../holds/hold-arithmetic.js';
import type { Holder } from '../../holds/holds.store.js';
import type { Tx } from '../../platform/work.js';
import { type DemoIds, need } from './demo-master.store.js';

const hour = 3_600_000;

/** Places the demo holds and takes their steps the way people do: the sums are the plant's own counts. */
export async function loadDemoHolds(tx: Tx, ids: DemoIds, holds: readonly SeedHold[], incidents: ReadonlyMap<string, number>, seedIncidents: readonly SeedIncident[], calendar: Calendar, users: readonly SeedUser[]): Promise<void> {
  const holderOf = (login: string): Holder => {
    const user = users.find((each) => each.login === login);
    if (!user) throw new Error(`the demo plant names "${login}" but does not define it`);
    return { plantId: ids.plantId, userId: need(ids.users, login), name: user.name, role: user.role };
  };
  for (const seed of holds) {
    const incident = seedIncidents.find(({ code }) => code === seed.incidentCode);
    if (!incident) throw new Error(`the demo plant names "${seed.incidentCode}" but does not define it`);
    const line = lineOfMachine(seed.machineCode).code;
    const at = (hours: number) => new Date(calendar.at(incident.madeAt.day, incident.madeAt.hour + hours)).toISOString();
    const received = calendar.at(incident.receivedAt.day, incident.receivedAt.hour);
    const question = {
      lineId: need(ids.lines, line), stepId: null, machineId: need(ids.machines, seed.machineCode), unitId: seed.unitCode === null ? null : need(ids.units, `${seed.machineCode}/${seed.unitCode}`), laneId: seed.laneCode === null ? null : need(ids.lanes, `${line}/${seed.laneCode}`),
      from: at(seed.fromHour), firstBadAt: at(0), until: at(seed.untilHour), untilBasis: seed.untilBasis, back: { shortestSeconds: 0, longestSeconds: 0 }, forward: { shortestSeconds: 45, longestSeconds: 280 }, pallets: [],
    };
    const figure = { palletsPerMinute: seed.palletsPerMinute, boundaryAt: new Date(calendar.at(incident.madeAt.day, 0)).toISOString(), prefix: seed.prefix };
    const { arithmetic, computed } = await computeFor(tx, ids.plantId, { ...question, figure });
    const pallets = computed?.pallets ?? [];
    const id = await place(tx, holderOf(seed.by), { ...question, pallets, reason: seed.reason, signalId: null, incidentId: need(incidents, seed.incidentCode), state: 'placed', shownCans: arithmetic.cans?.suspect ?? null }, new Date(received + hour));
    for (const [index, step] of seed.steps.entries()) {
      const [revision, now, holder] = [index + 1, new Date(received + step.afterHours * hour), holderOf(step.by)];
      if (step.kind === 'examine') await move(tx, holder, id, { revision, to: 'under-examination', comment: step.comment }, now);
      else if (step.kind === 'sample') await sample(tx, holder, id, { revision, what: step.what, lotCans: null, share: step.share, risk: step.risk, examined: step.examined, found: step.found, comment: '' }, now);
      else await dispose(tx, holder, id, { revision, disposition: step.disposition, pallets: step.firstPallets === null ? null : pallets.slice(0, step.firstPallets).map(({ code }) => code), reason: step.reason, decidedBy: step.decidedBy, decidedRole: step.decidedRole, acknowledged: true }, now);
    }
  }
}
