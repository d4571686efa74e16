import { Problem } from '#contract/problem';
import type { MissedCheck } from '#contract/due-checks';
import { canonicalJson } from '../../packs/canonical.js';
import { FORMAT, type PackContent, type PackInputs, type PackScope } from '../../packs/pack-content.js';
import { readAround, readScope, readStudies } from '../../packs/pack-inputs.store.js';
import { listSubjectIds, readSubject } from '../../packs/pack-subjects.store.js';
import { templateOf } from '../../packs/pack-templates.store.js';
import { chainHead } from '../../platform/audit-chain.js';
import { readOneMoment } from '../../platform/one-moment.js';
import { version } from '../../platform/version.js';
import type { Tx, Work } from '../../platform/work.js';
import { missedChecks } from '../../production/missed-list.js';
import { findApprovedGaugeStudy } from '../../studies/gauge-standing.store.js';
import { computePack } from './compute-pack.js';
import { gaugesByCharacteristic } from './gauges-by-characteristic.js';

export type PackAsked = { customer: string; title: string; products: readonly number[]; from: string; to: string; studies: readonly number[] };
/** done of total; throws to stop. */
export type PackProgress = (done: number, total: number) => Promise<void>;

const CONFIDENCE = 0.95;
/** A year of forty characteristics takes tens of seconds on a small machine. */
const MOST_MS = 900_000;

/** Reads everything at one moment of the database, so that no half of a correction is in it, and computes. Stores nothing. */
export async function freezePack(work: Work, plantId: number, asked: PackAsked, by: { id: number; name: string }, now: Date, progress: PackProgress = async () => {}): Promise<PackContent> {
  const frozen = await work.run(async (tx) => {
    await readOneMoment(tx);
    const scope = await scopeOf(tx, plantId, asked);
    const inputs = await readInputs(tx, plantId, scope, now, progress);
    return { scope, inputs, chainHead: await chainHead(tx, plantId) };
  }, MOST_MS);
  const inputs = JSON.parse(canonicalJson(frozen.inputs)) as PackInputs;
  const subjects = inputs.subjects.length;
  const results = await computePack(inputs, frozen.scope, (done) => progress(subjects + done, 2 * subjects));
  return { format: FORMAT, softwareVersion: version, madeAt: now.toISOString(), madeBy: { id: by.id, name: by.name }, chainHead: frozen.chainHead, scope: frozen.scope, inputs, results };
}

async function scopeOf(tx: Tx, plantId: number, asked: PackAsked): Promise<PackScope> {
  const { plant, products } = await readScope(tx, plantId, asked.customer, asked.products);
  const unknown = asked.products.filter((id) => !products.some((product) => product.id === id));
  if (unknown.length > 0) throw new Problem('not-found', `There is no product ${unknown.join(', ')} of ${asked.customer} in this plant.`, [{ field: 'products', expected: `ids of products of ${asked.customer}` }]);
  const from = new Date(asked.from).toISOString();
  const to = new Date(asked.to).toISOString();
  return { title: asked.title, customer: asked.customer, plant, products, from, to, confidence: CONFIDENCE, template: await templateOf(tx, plantId, asked.customer), studies: [...new Set(asked.studies)].sort((a, b) => a - b) };
}

/** What a pack of this scope would freeze at this moment. */
export async function readInputs(tx: Tx, plantId: number, scope: PackScope, now: Date, progress: PackProgress = async () => {}): Promise<PackInputs> {
  const productIds = scope.products.map(({ id }) => id);
  const ids = await listSubjectIds(tx, plantId, productIds, scope);
  const subjects: PackInputs['subjects'] = [];
  for (const each of ids) {
    subjects.push(await readSubject(tx, plantId, each, scope));
    await progress(subjects.length, 2 * ids.length);
  }
  const studies = await readStudies(tx, plantId, scope.studies);
  const unknown = scope.studies.filter((id) => !studies.some((study) => study.id === id));
  if (unknown.length > 0) throw new Problem('not-found', `There is no kept study ${unknown.join(', ')}.`, [{ field: 'studies', expected: 'ids of kept studies' }]);
  const machines = new Set(subjects.map(({ machine }) => machine.id));
  const names = new Set(subjects.flatMap(({ product }) => [product.code, product.name]));
  const missed = (await missedChecks(tx, plantId, { from: new Date(scope.from), to: new Date(scope.to) }, now)).filter((each) => machines.has(each.machineId) && names.has(each.product));
  return { subjects, ...(await readAround(tx, plantId, subjects, productIds, scope)), missed: missed.map(missedRow), studies, gaugeStudies: await approvedStudies(tx, plantId, subjects) };
}

async function approvedStudies(tx: Tx, plantId: number, subjects: PackInputs['subjects']): Promise<NonNullable<PackInputs['gaugeStudies']>> {
  const found: NonNullable<PackInputs['gaugeStudies']> = [];
  for (const { characteristic, gaugeId } of gaugesByCharacteristic(subjects)) {
    const study = await findApprovedGaugeStudy(tx, plantId, gaugeId, characteristic.id);
    if (study) found.push({ ...study, approvedAt: study.approvedAt.toISOString(), gaugeId, characteristicId: characteristic.id });
  }
  return found;
}

function missedRow(each: MissedCheck): PackInputs['missed'][number] {
  const { kind, plan, machine, line, product, from } = each;
  const common = { kind, plan, machine, line, product, from };
  if (each.kind === 'interval') return { ...common, until: each.until, missed: each.missed, reason: `${each.passed} ${each.unit} passed, every ${each.every}`, source: each.source };
  if (each.kind === 'event') return { ...common, until: each.until, missed: 1, reason: each.cause.kind, source: each.source };
  return { ...common, until: null, missed: 1, reason: `${each.reason} (${each.by})`, source: '' };
}
