import type { Role } from '#contract/roles';
import { gaugeStudyReading, seedGaugeStudy } from '../../../../../seed/gauge-study.js';
import { seedUsers } from '../../../../../seed/plant.js';
import { defaultSeed } from '../../../../../seed/simulate.js';
import type { Signer } from '../../platform/actor.js';
import type { Tx, Work } from '../../platform/work.js';
import { listContents } from '../../records/contents.store.js';
import { finishGauge, planGauge, takeTrial } from '../../studies/gauge-studies.js';
import { listTrials } from '../../studies/gauge-trials.store.js';
import { stepStudy } from '../step-study.js';
import { type DemoIds, need } from './demo-master.store.js';

const [DAY, MINUTE] = [86_400_000, 60_000];

/** A gauge study by the acts of the screens: planned, measured by the sheet, computed, and signed twice by a second person. */
export async function loadDemoStudy(work: Work, tx: Tx, ids: DemoIds, password: string, endsAt: Date): Promise<void> {
  const { title, note, characteristicCode, gaugeCode, productCode, plannedBy, signedBy, daysAgo, repeats, people, parts } = seedGaugeStudy;
  const inside = work.within(tx);
  const planner = person(ids, plannedBy);
  let now = new Date(endsAt.getTime() - daysAgo * DAY);
  const { id } = await planGauge(inside, planner, {
    title, note, supersedesId: null, design: 'crossed', people, parts, repeats, scale: null, standard: null, references: null, confidence: 0.95,
    characteristicId: need(ids.characteristics, characteristicCode), gaugeId: need(ids.gauges, gaugeCode), productId: need(ids.products, productCode),
  }, now);
  for (const [index, trial] of (await listTrials(tx, ids.plantId, id)).entries()) {
    now = new Date(now.getTime() + MINUTE);
    await takeTrial(inside, planner, id, { sequence: index + 1, value: gaugeStudyReading(defaultSeed, trial), unusual: false, retakeReason: undefined }, now);
  }
  await finishGauge(inside, planner, id, now);
  for (const state of ['checked', 'approved'] as const) {
    now = new Date(now.getTime() + DAY);
    const contentHash = (await listContents(tx, ids.plantId, 'study-record', [id])).get(id)?.contentHash ?? '';
    await stepStudy(inside, person(ids, signedBy), id, { state, contentHash, password, comment: '' }, now);
  }
}

function person(ids: DemoIds, login: string): Signer {
  const { name, role } = seedUsers.find((user) => user.login === login) as { name: string; role: Role };
  return { plantId: ids.plantId, userId: need(ids.users, login), name, login, role, from: '127.0.0.1' };
}
