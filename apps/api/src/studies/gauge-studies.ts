import { createHash, randomInt } from 'node:crypto';
import type { InputOf } from '#contract/endpoint';
import { type enterTrial, type GaugePlan, type NewGaugeStudy, storedGaugePlan } from '#contract/gauge-studies';
import { Problem } from '#contract/problem';
import type { Actor } from '../platform/audit.js';
import { version } from '../platform/version.js';
import type { Tx, Work } from '../platform/work.js';
import { gaugeResultOf } from './gauge-result.js';
import { gaugeStanding } from './gauge-standing.js';
import { findGaugeSubject, insertTrials, listTrials, updateTrial } from './gauge-trials.store.js';
import { noteStudy, requireReplaceable } from './study-records.js';
import { insertStudyRecord, insertStudyStep, lockStudyRecord, updateStudyRecord } from './study-records.store.js';
import { thresholdsInForce } from './study-thresholds.js';
import { type TakenTrial, trialOrder } from './trial-order.js';

type Person = Actor & { userId: number };

/** Plans the study with a random order that is kept; readings are taken by the blind sheet. */
export function planGauge(work: Work, actor: Person, asked: NewGaugeStudy, now: Date): Promise<{ id: number }> {
  return work.run(async (tx) => {
    const { plantId } = actor;
    const { title, note, supersedesId, characteristicId, gaugeId, productId, design, people, parts, repeats, scale, standard, references, confidence } = asked;
    const subject = await findGaugeSubject(tx, plantId, { characteristicId, gaugeId, productId }, now);
    if (!subject) throw new Problem('not-found', 'This plant has no such characteristic, gauge or product.', [{ field: 'characteristicId', expected: 'a characteristic, gauge and product of this plant' }]);
    await requireReplaceable(tx, plantId, supersedesId, 'gauge');
    const seed = randomInt(1, 2 ** 31);
    const tolerance = subject.tolerance !== null && subject.tolerance > 0 ? subject.tolerance : null;
    const plan: GaugePlan = { design, people, parts, repeats, scale, standard, references, confidence, seed, tolerance, specificationId: tolerance === null ? null : subject.specificationId, unit: subject.unit, decimals: subject.decimals, gaugeStep: subject.gaugeStep };
    const id = await insertStudyRecord(tx, actor, { kind: 'gauge', title, note, state: 'measuring', productId, machineId: null, characteristicId, gaugeId, question: plan, inputs: null, inputsHash: null, results: null, version, authorId: actor.userId, createdAt: now, supersedesId });
    await insertTrials(tx, plantId, id, trialOrder({ people: people.length, parts: parts.length, repeats, nested: design === 'nested', seed }));
    await noteStudy(tx, actor, 'gauge-study.planned', id, { title, design, people, parts, repeats, seed });
    return { id };
  });
}

/** @throws Problem wrong-state unless it is a gauge study that is being measured */
async function lockMeasuring(tx: Tx, plantId: number, id: number) {
  const study = await lockStudyRecord(tx, plantId, id);
  if (study.kind !== 'gauge') throw new Problem('not-found', `Study ${id} is no gauge study.`);
  if (study.state !== 'measuring') throw new Problem('wrong-state', 'The sheet of this study is closed: its readings do not change any more.');
  return { ...study, plan: storedGaugePlan.parse(study.question) };
}

/** The next reading of a person, or one taken anew with the reason; the old value stays in the audit trail. */
export function takeTrial(work: Work, actor: Person, id: number, { sequence, value, unusual, retakeReason }: InputOf<typeof enterTrial>['body'], now: Date) {
  return work.run(async (tx) => {
    const { plan, characteristicId, gaugeId, productId } = await lockMeasuring(tx, actor.plantId, id);
    const trials = await listTrials(tx, actor.plantId, id);
    const trial = trials[sequence - 1];
    if (!trial) throw new Problem('invalid-input', undefined, [{ field: 'sequence', expected: `a reading of this study, 1 to ${trials.length}` }]);
    if (trial.value !== null && retakeReason === undefined) throw new Problem('wrong-state', 'This reading is taken already. Take it anew with the reason, or go on with the next.');
    if (trial.value === null && retakeReason !== undefined) throw new Problem('invalid-input', undefined, [{ field: 'retakeReason', expected: 'none: this reading was not taken yet' }]);
    if (trials.some((other) => other.person === trial.person && other.sequence < sequence && other.value === null)) throw new Problem('wrong-state', 'An earlier reading of this person is not taken yet: the order of the plan counts.');
    const size = plan.scale === null ? null : plan.scale.kind === 'ordinal' ? plan.scale.grades.length : plan.scale.categories.length;
    if (size !== null && !(Number.isInteger(value) && value >= 0 && value < size)) throw new Problem('invalid-input', undefined, [{ field: 'value', expected: `the place of a rating, 0 to ${size - 1}` }]);
    const subject = size === null ? await findGaugeSubject(tx, actor.plantId, { characteristicId, gaugeId, productId }, now) : null;
    if (subject && !unusual && ((subject.low !== null && value < subject.low) || (subject.high !== null && value > subject.high))) throw new Problem('implausible-reading', undefined, [{ field: 'value', expected: `a value from ${subject.low ?? 'any'} to ${subject.high ?? 'any'} ${subject.unit}; look at the gauge again, then confirm it` }]);
    await updateTrial(tx, actor.plantId, id, sequence, { value, enteredBy: actor.userId, enteredAt: now, retakes: trial.retakes + (trial.value === null ? 0 : 1) });
    await noteStudy(tx, actor, trial.value === null ? 'gauge-study.reading' : 'gauge-study.reading-retaken', id, { sequence, value, ...(trial.value === null ? {} : { old: trial.value, reason: retakeReason }) });
    return { taken: trials.filter((each) => each === trial || each.value !== null).length, of: trials.length };
  });
}

/** Closes the sheet and computes, with the thresholds in force and the gauge as it stands now. */
export function finishGauge(work: Work, actor: Person, id: number, now: Date): Promise<{ id: number }> {
  return work.run(async (tx) => {
    const { plan, gaugeId, characteristicId } = await lockMeasuring(tx, actor.plantId, id);
    const trials = await listTrials(tx, actor.plantId, id);
    const taken: TakenTrial[] = trials.flatMap(({ person, part, repeat, value }) => (value === null ? [] : [{ person, part, repeat, value }]));
    if (taken.length < trials.length) throw new Problem('wrong-state', `${trials.length - taken.length} of ${trials.length} readings are not taken yet.`);
    const standing = await gaugeStanding(tx, actor.plantId, { gaugeId, characteristicId, at: now });
    const results = computed({ plan, trials: taken, thresholds: await thresholdsInForce(tx, actor.plantId), calibration: standing?.calibration ?? 'not-known', retakes: trials.reduce((sum, { retakes }) => sum + retakes, 0) });
    const inputs = { trials: trials.map(({ sequence, person, part, repeat, value }) => [sequence, person, part, repeat, value]) };
    const inputsHash = createHash('sha256').update(JSON.stringify(inputs)).digest('hex');
    await updateStudyRecord(tx, actor.plantId, id, { state: 'draft', inputs, inputsHash, results, verdict: results.verdict, version });
    await insertStudyStep(tx, actor, id, 'draft', '', now);
    await noteStudy(tx, actor, 'gauge-study.finished', id, { verdict: results.verdict, inputsHash });
    return { id };
  });
}

function computed(given: Parameters<typeof gaugeResultOf>[0]) {
  try {
    return gaugeResultOf(given);
  } catch (error) {
    if (error instanceof RangeError) throw new Problem('cannot-compute', error.message);
    throw error;
  }
}
