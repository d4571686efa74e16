import type { FindingKind, PackFinding } from '#contract/packs';
import type { PackInputs, PackResult, PackResults, PackScope, PackSubject } from '../../packs/pack-content.js';
import { streamNames } from '../../packs/pack-facts.js';
import { gaugesByCharacteristic } from './gauges-by-characteristic.js';
import { outOfCalibration } from './out-of-calibration.js';

type More = Partial<Omit<PackFinding, 'kind' | 'about'>>;
const finding = (kind: FindingKind, about: string, more: More = {}): PackFinding => ({ kind, about, count: null, at: null, value: null, needed: null, streamId: null, signalId: null, productId: null, machineId: null, characteristicId: null, ...more });

/** What would fail the audit, or must be explained in it, in the order of proof. */
export function findingsOf(inputs: PackInputs, scope: PackScope, results: Omit<PackResults, 'findings'>): PackFinding[] {
  const found: PackFinding[] = [];
  for (const product of scope.products) {
    if (!inputs.subjects.some((subject) => subject.product.id === product.id)) found.push(finding('no-data', product.code, { productId: product.id }));
  }
  found.push(...findingsOfGaugeStudies(inputs, scope));
  const groups = inputs.subjects.flatMap(({ streams }) => streams.flatMap(({ subgroups }) => subgroups));
  for (const gauge of inputs.gauges) {
    const out = groups.flatMap(([, takenAt, , , , gaugeId]) => (gaugeId === gauge.id ? outOfCalibration(gauge, takenAt) ?? [] : []));
    const [earliest = null] = out.flatMap(({ dueAt }) => dueAt ?? []).sort();
    if (out.length > 0) found.push(finding('calibration-overdue', gauge.code, { count: out.length, at: earliest }));
  }
  for (const [index, subject] of inputs.subjects.entries()) found.push(...findingsOfSubject(subject, results.subjects[index] as PackResult, scope));
  const names = streamNames(inputs);
  for (const signal of inputs.signals) {
    if (signal.cause === null || signal.cause.trim() === '') found.push(finding('signal-without-cause', names.get(signal.streamId) ?? `stream ${signal.streamId}`, { signalId: signal.id, streamId: signal.streamId, at: signal.firedAt }));
  }
  const missed = inputs.missed.filter(({ kind }) => kind !== 'skipped');
  for (const plan of new Set(missed.map((each) => `${each.machine} ${each.plan}`))) {
    const own = missed.filter((each) => `${each.machine} ${each.plan}` === plan);
    found.push(finding('missed-checks', plan, { count: own.reduce((sum, each) => sum + each.missed, 0), at: own[0]?.from ?? null }));
  }
  if (inputs.checks.reviewed < inputs.checks.stored) found.push(finding('unsigned', scope.products.map(({ code }) => code).join(', '), { count: inputs.checks.stored - inputs.checks.reviewed, needed: inputs.checks.stored }));
  return found;
}

/** A kept study names no gauge: one that was chosen for the pack stands for all that have no approved one. */
function findingsOfGaugeStudies({ subjects, gauges, studies, gaugeStudies }: PackInputs, scope: PackScope): PackFinding[] {
  const isChosen = studies.some((study) => study.answers.some(({ method }) => method.startsWith('gauge-')));
  if (gaugeStudies === null) return subjects.length > 0 && !isChosen ? [finding('no-gauge-study', scope.customer)] : [];
  return gaugesByCharacteristic(subjects).flatMap(({ characteristic, gaugeId }) => {
    const about = [characteristic.name, gauges.find(({ id }) => id === gaugeId)?.code].filter(Boolean).join(', ');
    const study = gaugeStudies.find((each) => each.gaugeId === gaugeId && each.characteristicId === characteristic.id);
    if (study?.verdict === 'not-acceptable') return [finding('gauge-study-failed', about, { characteristicId: characteristic.id, at: study.approvedAt })];
    return study || isChosen ? [] : [finding('no-gauge-study', about, { characteristicId: characteristic.id })];
  });
}

function findingsOfSubject(subject: PackSubject, result: PackResult, { template }: PackScope): PackFinding[] {
  const { product, machine, characteristic } = subject;
  const ids = { productId: product.id, machineId: machine.id, characteristicId: characteristic.id };
  const name = `${product.code} ${machine.code} ${characteristic.name}`;
  const found: PackFinding[] = [];
  if (result.used === null) found.push(finding('no-specification', name, ids));
  if (result.inForce.length > 1) found.push(finding('specification-changed', name, { ...ids, count: result.inForce.length - 1, at: result.used?.effectiveFrom ?? null }));
  for (const { entry } of result.streams) {
    const about = [name, entry.unit?.code, entry.lane?.code].filter(Boolean).join(' ');
    const of = { ...ids, streamId: entry.streamId };
    if (entry.stability.state === 'not-stable') found.push(finding('not-stable', about, { ...of, count: entry.stability.signals.length }));
    if (entry.stability.notJudged > 0) found.push(finding('not-judged', about, { ...of, count: entry.stability.notJudged }));
    if (entry.subgroups < template.subgroups) found.push(finding('few-data', about, { ...of, count: entry.subgroups, needed: template.subgroups }));
    if (entry.withoutGauge > 0) found.push(finding('gauge-unknown', about, { ...of, count: entry.withoutGauge }));
    const { cpk = null, ppk = null } = entry.figures ?? {};
    if (cpk !== null && cpk < template.cpk) found.push(finding('below-threshold', `${about}: Cpk`, { ...of, value: cpk, needed: template.cpk }));
    if (ppk !== null && ppk < template.ppk) found.push(finding('below-threshold', `${about}: Ppk`, { ...of, value: ppk, needed: template.ppk }));
  }
  return found;
}
