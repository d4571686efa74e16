import { z } from 'zod';
import type { PdfPaper } from './pdf-paper.js';
import type { PackContent, PackSignal } from '../pack-content.js';
import { fill } from '../words/en.js';
import type { PackFormat } from '../words/format.js';

type Of = { paper: PdfPaper; content: PackContent; format: PackFormat };
/** A list that is longer goes on in the JSON file and the spreadsheet. */
const MOST_ROWS = 400;

function listOf<Item>({ paper, format: { words } }: Of, columns: Parameters<PdfPaper['table']>[0], items: readonly Item[], row: (item: Item) => string[]): void {
  if (items.length === 0) { paper.paragraph(words.nothing); return; }
  paper.table(columns, items.slice(0, MOST_ROWS).map(row));
  if (items.length > MOST_ROWS) paper.paragraph(fill(words.more, { count: items.length - MOST_ROWS }));
}

/** Every number of an answer with its path, lists of numbers left out. */
function* leaves(value: unknown, path: string): Generator<[string, number | string]> {
  if (typeof value === 'number' || typeof value === 'string') yield [path, value];
  else if (Array.isArray(value) && value.length > 12) yield [path, `[${value.length}]`];
  else if (typeof value === 'object' && value !== null) for (const [name, member] of Object.entries(value)) yield* leaves(member, path === '' ? name : `${path} ${name}`);
}

/** What the customer asks about first, where the answer is of a gauge study. Shares are parts of 1. */
const gaugeVerdict = z.object({ gauge: z.object({ ofStudy: z.number().nullable(), ofTolerance: z.number().nullable() }), distinctCategories: z.number().nullable() });

export function measurement(of: Of): void {
  const { paper, content, format: { words, figure, moment, number } } = of;
  const share = (value: number | null) => (value === null ? '–' : `${number(100 * value, 2)} %`);
  const uses = new Map<number, { subgroups: number; overdue: number }>();
  for (const { entry } of content.results.subjects.flatMap(({ streams }) => streams)) {
    for (const gauge of entry.gauges) {
      const use = uses.get(gauge.id) ?? { subgroups: 0, overdue: 0 };
      uses.set(gauge.id, { subgroups: use.subgroups + gauge.subgroups, overdue: use.overdue + gauge.overdue });
    }
  }
  if (content.inputs.gauges.length === 0) paper.paragraph(words.noGauge);
  else listOf(of, [{ title: words.columns.gauge, width: 4 }, { title: words.columns.resolution, width: 2, right: true }, { title: words.columns.due, width: 2.5 }, { title: words.columns.subgroups, width: 2, right: true }, { title: words.columns.overdue, width: 2, right: true }], content.inputs.gauges,
    (gauge) => [`${gauge.code} ${gauge.name}`, `${figure(gauge.resolution)} ${gauge.unit}`, gauge.calibrationDue === null ? words.unknown : moment(gauge.calibrationDue), String(uses.get(gauge.id)?.subgroups ?? 0), String(uses.get(gauge.id)?.overdue ?? 0)]);
  const characteristics = new Map(content.inputs.subjects.map(({ characteristic }) => [characteristic.id, characteristic.name]));
  for (const { id, title, gaugeId, characteristicId, ofStudy, ofTolerance, kappa, verdict, approvedAt } of content.inputs.gaugeStudies ?? []) {
    const gauge = content.inputs.gauges.find((each) => each.id === gaugeId)?.code ?? words.byEye;
    paper.paragraph(fill(words.approvedStudy, { id, title, gauge, characteristic: characteristics.get(characteristicId) ?? '–', study: share(ofStudy), tolerance: share(ofTolerance), kappa: number(kappa, 3), verdict: verdict === null ? '–' : words.verdicts[verdict], at: moment(approvedAt) }));
  }
  for (const [index, study] of content.inputs.studies.entries()) {
    paper.heading(2, fill(words.study, { id: study.id, title: study.title }));
    for (const { method, answer } of content.results.studies[index]?.answers ?? []) {
      paper.paragraph(fill(words.studyFacts, { author: study.author, at: moment(study.createdAt), method, version: content.softwareVersion }));
      const verdict = gaugeVerdict.safeParse(answer);
      if (verdict.success) paper.paragraph(fill(words.gaugeStudy, { study: share(verdict.data.gauge.ofStudy), tolerance: share(verdict.data.gauge.ofTolerance), categories: verdict.data.distinctCategories ?? '–' }), { bold: true });
      paper.table([{ title: words.columns.name, width: 6 }, { title: words.columns.value, width: 3, right: true }], [...leaves(answer, '')].map(([name, value]) => [name, typeof value === 'number' ? figure(value) : value]));
    }
  }
}

const done = ({ steps }: Pick<PackSignal, 'steps'>, moment: PackFormat['moment']) => steps.map(({ at, actor, action, comment }) => `${moment(at)} ${actor}: ${action}${comment ? ` – ${comment}` : ''}`).join('\n');

export function signals(of: Of, nameOfStream: (id: number) => string): void {
  const { content, format: { words, moment } } = of;
  listOf(of, [{ title: '#', width: 0.8 }, { title: words.columns.stream, width: 2.6 }, { title: words.columns.at, width: 1.6 }, { title: words.columns.rule, width: 1.8 }, { title: words.columns.state, width: 1.2 }, { title: words.columns.cause, width: 2 }, { title: words.columns.action, width: 7.4 }], content.inputs.signals,
    (signal) => [String(signal.id), nameOfStream(signal.streamId), moment(signal.firedAt), `${words.rules[signal.rule] ?? signal.rule}, ${words.sides[signal.side] ?? signal.side}`, signal.state, signal.cause ?? '–', done(signal, moment)]);
}

export function incidents(of: Of): void {
  const { paper, content, format: { words, moment } } = of;
  if (content.inputs.incidents.length === 0) paper.paragraph(words.nothing);
  for (const incident of content.inputs.incidents) {
    paper.heading(2, fill(words.incident, { id: incident.id, kind: incident.kind, state: incident.state }));
    paper.paragraph(fill(words.incidentFacts, { code: incident.canCode || '–', at: moment(incident.receivedAt), complained: incident.cansComplained, leaking: incident.cansLeaking, examined: incident.cansExamined, defect: incident.defect }));
    const said = [[words.containment, incident.containment], [words.columns.cause, incident.cause], [words.columns.action, incident.action], [words.verdict, incident.verdict], [words.closedWithout, incident.closedWithout]] as const;
    for (const [name, text] of said) if (text !== '') paper.paragraph(`${name}: ${text}`);
    if (incident.verifications.length > 0) paper.paragraph(fill(words.verifications, { list: incident.verifications.map(({ id, author, createdAt }) => `${id} (${author}, ${moment(createdAt)})`).join('; ') }));
    if (incident.steps.length > 0) paper.paragraph(done(incident, moment), { size: 7.5 });
  }
}

export function missed(of: Of): void {
  const { content, format: { words, moment } } = of;
  listOf(of, [{ title: words.columns.from, width: 2.2 }, { title: words.columns.until, width: 2.2 }, { title: words.columns.machine, width: 1.6 }, { title: words.columns.plan, width: 3 }, { title: words.columns.kind, width: 1.6 }, { title: words.columns.missed, width: 1.2, right: true }, { title: words.columns.reason, width: 4 }], content.inputs.missed,
    (each) => [moment(each.from), moment(each.until), `${each.line} ${each.machine}`, each.plan, each.kind, String(each.missed), each.reason]);
}

export function changes(of: Of, nameOfStream: (id: number) => string): void {
  const { paper, content, format: { words, moment } } = of;
  const inPeriod = (at: string) => at >= content.scope.from && at < content.scope.to;
  const limits = content.inputs.subjects.flatMap(({ streams }) => streams.flatMap((stream) => stream.limits.filter(({ effectiveFrom }) => inPeriod(effectiveFrom)).map((each) => ({ at: each.effectiveFrom, kind: words.columns.limit, about: nameOfStream(stream.id), text: each.reason, by: each.author }))));
  const revisions = content.inputs.subjects.flatMap((subject) => subject.revisions.filter(({ effectiveFrom }) => inPeriod(effectiveFrom)).map((each) => ({ at: each.effectiveFrom, kind: words.sections.specification, about: `${subject.product.code} ${subject.characteristic.name}, ${each.revision}`, text: each.reason, by: each.author })));
  const events = content.inputs.events.map((event) => ({ at: event.at, kind: event.kind, about: `${event.line} ${event.machine ?? ''}`, text: event.text, by: event.actor }));
  listOf(of, [{ title: words.columns.at, width: 2.2 }, { title: words.columns.kind, width: 2 }, { title: words.columns.about, width: 3.4 }, { title: words.columns.text, width: 5 }, { title: words.columns.by, width: 2 }], [...limits, ...revisions, ...events].sort((a, b) => (a.at < b.at ? -1 : a.at > b.at ? 1 : 0)),
    (each) => [moment(each.at), each.kind, each.about, each.text, each.by]);
  paper.paragraph(fill(words.corrected, { count: content.inputs.corrections.length }), { bold: true });
  if (content.inputs.corrections.length > 0) listOf(of, [{ title: words.columns.at, width: 2.2 }, { title: words.columns.stream, width: 4 }, { title: words.columns.reason, width: 5 }, { title: words.columns.by, width: 2 }], content.inputs.corrections, (each) => [moment(each.at), nameOfStream(each.streamId), each.reason, each.by]);
}

export function signatures(of: Of): void {
  const { paper, content, format: { words, moment } } = of;
  paper.paragraph(fill(words.reviewed, { reviewed: content.inputs.checks.reviewed, stored: content.inputs.checks.stored }));
  if (content.inputs.signatures.length > 0) listOf(of, signatureColumns(words), content.inputs.signatures, (each) => [`${each.kind} ${each.recordId}`, each.meaning, each.printedName, each.role, moment(each.at), each.comment]);
}

export const signatureColumns = (words: PackFormat['words']) => [{ title: words.columns.record, width: 2 }, { title: words.columns.meaning, width: 2 }, { title: words.columns.name, width: 3 }, { title: words.columns.role, width: 2 }, { title: words.columns.at, width: 2.4 }, { title: words.columns.comment, width: 4 }];
