import type { Calendar } from '../../../../../seed/calendar.js';
import type { Moment } from '../../../../../seed/faults.js';
import type { SeedComparison, SeedIncidentLife } from '../../../../../seed/incident-lives.js';
import type { SeedIncident } from '../../../../../seed/incident-types.js';
import { type VerificationAsked, verificationAsked } from '#contract/incident-shapes';
import { verifyEffect } from '../../incidents/verify-effect.js';
import { insertVerification } from '../../incidents/verifications.store.js';
import { version } from '../../platform/version.js';
import type { Tx } from '../../platform/work.js';
import type { DemoKnowledge } from './demo-knowledge.store.js';
import { type DemoIds, need } from './demo-master.store.js';

type Person = { id: number; name: string };
// When, between coming in and being closed, the people of the demo plant took each step; the first one within hours.
const SHARE = { 'cause-found': 0.35, 'action-taken': 0.6, 'effect-verified': 0.95 } as const;
const CONTAINED_AFTER = 2 * 3_600_000;

/** Steps, causes, whys and dates of the demo's incidents. Comparisons are computed from the readings, as everybody's are. */
export async function insertDemoLives(tx: Tx, ids: DemoIds, lives: readonly SeedIncidentLife[], incidents: readonly SeedIncident[], known: DemoKnowledge, calendar: Calendar, personOf: (login: string) => Person): Promise<void> {
  const { plantId } = ids;
  const when = ({ day, hour }: Moment) => new Date(calendar.at(day, hour));
  for (const life of lives) {
    const seed = incidents.find(({ code }) => code === life.incident);
    if (!seed) throw new RangeError(`insertDemoLives: needs an incident of the demo plant, ${life.incident} given`);
    const incidentId = need(known.incidents, life.incident);
    const person = personOf(seed.loggedBy);
    const received = when(seed.receivedAt).getTime();
    const took = (seed.closedAt === null ? received : when(seed.closedAt).getTime()) - received;
    const at = (to: keyof typeof SHARE) => new Date(received + SHARE[to] * took);
    const verificationId = life.comparison === null ? null : await keepComparison(tx, ids, incidentId, life.comparison, when, person, at('effect-verified'));
    const verdict = life.comparison?.verdict ?? '';
    const steps: { action: string; at: Date; comment: string; evidence?: string }[] = [];
    if (life.state !== 'open') steps.push({ action: 'contained', at: new Date(received + CONTAINED_AFTER), comment: seed.containment, evidence: life.evidence.contained });
    if (life.state === 'closed') {
      steps.push({ action: 'cause-found', at: at('cause-found'), comment: seed.cause, evidence: life.evidence['cause-found'] }, { action: 'action-taken', at: at('action-taken'), comment: seed.action, evidence: life.evidence['action-taken'] });
      if (verificationId !== null) steps.push({ action: 'effect-verified', at: at('effect-verified'), comment: verdict });
    }
    const dueAt = life.dueAt === null ? null : when(life.dueAt);
    await tx.incidentStep.createMany({ data: steps.map(({ evidence, action, ...step }) => ({ plantId, incidentId, userId: person.id, actor: person.name, action, state: action, evidence: evidence === '' ? null : evidence, dueAt: action === life.state ? dueAt : null, ...step })) });
    await tx.incidentStep.updateMany({ where: { plantId, incidentId, action: 'closed' }, data: { state: 'closed', ...(life.closedWithout === '' ? {} : { evidence: `Closed without a verified effect: ${life.closedWithout}` }) } });
    await tx.incident.update({ where: { plantId_id: { plantId, id: incidentId } }, data: {
      state: life.state, causeCategory: life.causeCategory, causeMachineId: life.causeMachineCode === null ? null : need(ids.machines, life.causeMachineCode), whys: life.whys.map((why) => ({ ...why })), verificationId, verdict, closedWithout: life.closedWithout, dueAt,
    } });
  }
}

async function keepComparison(tx: Tx, ids: DemoIds, incidentId: number, comparison: SeedComparison, when: (moment: Moment) => Date, author: Person, createdAt: Date): Promise<number> {
  const { plantId } = ids;
  const [stream] = await tx.$queryRaw<{ id: number }[]>`
    SELECT s.id FROM stream s JOIN machine m ON m.plant_id = s.plant_id AND m.id = s.machine_id JOIN characteristic c ON c.plant_id = s.plant_id AND c.id = s.characteristic_id
    LEFT JOIN unit u ON u.plant_id = s.plant_id AND u.id = s.unit_id LEFT JOIN lane l ON l.plant_id = s.plant_id AND l.id = s.lane_id
    WHERE s.plant_id = ${plantId} AND m.code = ${comparison.machineCode} AND c.code = ${comparison.characteristicCode} AND u.code IS NOT DISTINCT FROM ${comparison.unitCode} AND l.code IS NOT DISTINCT FROM ${comparison.laneCode}`;
  if (!stream) throw new RangeError(`insertDemoLives: needs a stream, ${comparison.machineCode} ${comparison.characteristicCode} given`);
  const iso = (moment: Moment) => when(moment).toISOString();
  const asked: VerificationAsked = verificationAsked.parse({
    streamId: stream.id, basis: 'subgroups', change: comparison.change, changedAt: iso(comparison.changedAt), eventId: null, expected: comparison.expected,
    before: { from: iso(comparison.before.from), to: iso(comparison.before.to) }, after: { from: iso(comparison.after.from), to: iso(comparison.after.to) },
  });
  const answer = await verifyEffect(tx, plantId, asked);
  return insertVerification(tx, plantId, { incidentId, asked, answer, version, authorId: author.id, createdAt });
}
