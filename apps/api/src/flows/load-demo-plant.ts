import { canCode } from '../../../../seed/can-code.js';
import { seedCanCodePatterns } from '../../../../seed/can-code-patterns.js';
import { plantCalendar, scenarioDays, shiftHours } from '../../../../seed/calendar.js';
import { seedHolds } from '../../../../seed/holds.js';
import { seedIncidentLives } from '../../../../seed/incident-lives.js';
import { seedIncidents } from '../../../../seed/incidents.js';
import { seedNotes } from '../../../../seed/notes.js';
import { lineOfMachine, seedPlant, seedUsers } from '../../../../seed/plant.js';
import { defaultSeed, simulatePlant } from '../../../../seed/simulate.js';
import type { SimulatedCheck, SimulatedPlant } from '../../../../seed/simulated.js';
import { seedSynonyms } from '../../../../seed/synonyms.js';
import { seedWeldWindows } from '../../../../seed/weld-windows.js';
import { type Actor, record } from '../platform/audit.js';
import { announce } from '../platform/outbox.js';
import type { Tx, Work } from '../platform/work.js';
import { hashPassword } from '../users/passwords.js';
import { correctReading } from './correct-reading.js';
import { demoCheck } from './demo/demo-check.js';
import { insertDemoCanCodes } from './demo/demo-can-codes.store.js';
import { insertDemoCounts, insertDemoEvents } from './demo/demo-history.store.js';
import { insertDemoLives } from './demo/demo-incident-lives.store.js';
import { insertDemoKnowledge, insertDemoSynonyms } from './demo/demo-knowledge.store.js';
import { freezeDemoLimits } from './demo/demo-limits.store.js';
import { type DemoIds, insertDemoMaster, need } from './demo/demo-master.store.js';
import { loadDemoFloor } from './demo/load-demo-floor.js';
import { loadDemoHolds } from './demo/load-demo-holds.js';
import { loadDemoReviews } from './demo/load-demo-reviews.js';
import { loadDemoStudy } from './demo/load-demo-study.js';
import { insertDemoShifts } from './demo/demo-shifts.store.js';
import { insertDemoWeldWindows } from './demo/demo-weld-windows.store.js';
import { settleDemoSignals } from './demo/demo-signals.store.js';
import { recordReadings } from './record-readings.js';

export const DEMO_PASSWORD = 'seamledger-demo';
const CHECKS_AT_ONCE = 400;

/**
 * Fills an empty database with the invented plant and its ninety days, in one transaction: a start that is killed
 * meanwhile leaves nothing half. Checks go the same way as everybody's: recordReadings judges them.
 */
export async function loadDemoPlant(work: Work, now: Date, say: (line: string) => void): Promise<void> {
  const endsAt = new Date(Math.floor(now.getTime() / 300_000) * 300_000);
  const passwordHash = await hashPassword(DEMO_PASSWORD);
  const began = Date.now();
  await work.run(async (tx) => {
    const simulated = simulatePlant({ seed: defaultSeed, endsAt: endsAt.getTime(), days: 90 });
    const ids = await insertDemoMaster(tx, seedPlant, passwordHash, new Date(simulated.startsAt - 86_400_000), endsAt);
    const names = new Map(seedUsers.map((user) => [user.login, user.name]));
    const engineer = personOf(ids, 'engineer', names);
    const checks = await recordDemoChecks(tx, ids, simulated, names, engineer, say);
    await insertDemoEvents(tx, ids, simulated.lineEvents, names);
    await insertDemoCounts(tx, ids, simulated.counts);
    const calendar = plantCalendar({ endsAt: endsAt.getTime(), days: 90 });
    await insertDemoShifts(tx, ids.plantId, seedPlant.timeZone, calendar.at(scenarioDays - 1), shiftHours);
    const exampleOf = (lineCode: string) => canCode(lineCode, seedPlant.lines.find(({ code }) => code === lineCode)?.lanes[0]?.code ?? null, simulated.startsAt, seedPlant.timeZone);
    await insertDemoCanCodes(tx, ids, seedCanCodePatterns.map((pattern) => ({ ...pattern, example: exampleOf(pattern.lineCode) })), new Date(calendar.at(-365)), engineer.id);
    await insertDemoSynonyms(tx, ids, seedSynonyms, endsAt, names);
    const known = await insertDemoKnowledge(tx, ids, seedNotes, seedIncidents, calendar, seedPlant.timeZone, endsAt, names);
    await loadDemoHolds(tx, ids, seedHolds, known.incidents, seedIncidents, calendar, seedUsers);
    await insertDemoLives(tx, ids, seedIncidentLives, seedIncidents, known, calendar, (login) => ({ id: need(ids.users, login), name: names.get(login) ?? login }));
    const { open } = await settleDemoSignals(tx, ids, simulated.faults, seedIncidents, known, { technician: personOf(ids, 'technician', names), engineer }, endsAt);
    await loadDemoReviews(tx, ids.plantId, checks, { ...engineer, role: 'engineer' }, endsAt);
    await loadDemoFloor(work, tx, ids, simulated, engineer);
    await insertDemoWeldWindows(tx, ids, seedWeldWindows, calendar, engineer);
    await loadDemoStudy(work, tx, ids, DEMO_PASSWORD, endsAt);
    await record(tx, { plantId: ids.plantId, userId: null, name: 'demo plant' }, 'plant.made', `plant ${ids.plantId}`, { after: { demo: true, checks: simulated.checks.length } });
    await announce(tx, ids.plantId, open.map((signalId) => ({ kind: 'signal.raised', payload: { signalId } })));
    await tx.$executeRaw`ANALYZE`;
  }, 900_000);
  say(`demo plant ready after ${((Date.now() - began) / 1000).toFixed(1)} s`);
}

function personOf(ids: DemoIds, role: string, names: ReadonlyMap<string, string>): { id: number; name: string } {
  const login = seedUsers.find((user) => user.role === role)?.login ?? '';
  return { id: need(ids.users, login), name: names.get(login) ?? login };
}

async function recordDemoChecks(tx: Tx, ids: DemoIds, simulated: SimulatedPlant, names: ReadonlyMap<string, string>, engineer: { id: number; name: string }, say: (line: string) => void): Promise<{ id: number; takenAt: Date }[]> {
  const actor: Actor & { userId: number } = { plantId: ids.plantId, userId: engineer.id, name: engineer.name };
  const checks = [...simulated.checks].sort((a, b) => a.takenAt - b.takenAt);
  const baseline = checks.filter((check) => check.takenAt < simulated.baselineEndsAt);
  const idOf = new Map<string, number>();
  let done = 0;
  let said = 0;
  const store = async (part: readonly SimulatedCheck[]) => {
    for (let first = 0; first < part.length; first += CHECKS_AT_ONCE) {
      const slice = part.slice(first, first + CHECKS_AT_ONCE);
      const stored = await recordReadings(tx, actor, slice.map((check) => demoCheck(check, ids, lineOfMachine(check.machineCode).code, names)), {
        now: new Date(simulated.endsAt), source: 'seed', silent: true,
        enteredAt: (index) => new Date((slice[index] as SimulatedCheck).enteredAt), enteredBy: (index) => need(ids.users, (slice[index] as SimulatedCheck).inspector),
      });
      slice.forEach((check, index) => { idOf.set(check.key, stored.checkIds[index] as number); });
      done += slice.length;
      const percent = Math.floor((done / checks.length) * 10) * 10;
      if (percent > said) { said = percent; say(`seeding the demo plant: ${percent} % (${done} of ${checks.length} checks)`); }
    }
  };
  await store(baseline);
  await freezeDemoLimits(tx, ids.plantId, seedPlant.characteristics, { from: new Date(simulated.startsAt), to: new Date(simulated.baselineEndsAt) }, { id: engineer.id, reason: 'First twenty days, looked through by process and quality: steady, no known cause in them.' });
  await store(checks.slice(baseline.length));
  for (const correction of simulated.corrections) {
    await correctReading(tx, { plantId: ids.plantId, userId: need(ids.users, correction.by), name: names.get(correction.by) ?? correction.by }, need(idOf, correction.checkKey), {
      characteristic: correction.characteristicCode, can: correction.canIndex, position: correction.positionIndex, value: correction.to, reason: correction.reason, confirmed: true,
    }, new Date(correction.at));
  }
  return checks.map((check) => ({ id: need(idOf, check.key), takenAt: new Date(check.takenAt) }));
}
