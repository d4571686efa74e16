import { findingKind, type PackFinding, type PackLanguage, type PackSection } from '#contract/packs';
import type { PackContent } from '../pack-content.js';
import { readingsIn, streamNames } from '../pack-facts.js';
import { fill } from '../words/en.js';
import { packFormat, type PackFormat } from '../words/format.js';
import { PdfPaper } from './pdf-paper.js';
import * as proof from './proof-sections.js';
import * as records from './record-sections.js';

export type PackSigned = { kind: string; recordId: number; meaning: string; printedName: string; role: string; at: Date; comment: string };

/**
 * The pack as a tagged PDF in the order of proof. From frozen content alone, and the signatures under it, which are
 * append-only: the same pack with the same signatures gives the same bytes.
 */
export async function packPdf({ content, sha256, id, signatures, language }: { content: PackContent; sha256: string; id: number; signatures: readonly PackSigned[]; language: PackLanguage }): Promise<Buffer> {
  const { scope } = content;
  const format = packFormat(language, scope.plant.timeZone);
  const { words, moment } = format;
  const title = `${words.title}: ${scope.title}`;
  const paper = new PdfPaper({ title, lang: words.lang, at: new Date(content.madeAt), author: content.madeBy.name, subject: `${scope.customer}, SHA-256 ${sha256}` });
  const of = { paper, content, format };
  const names = streamNames(content.inputs);
  const nameOfStream = (stream: number) => names.get(stream) ?? `#${stream}`;

  cover(of, { id, sha256, title, signatures });
  const write: Record<Exclude<PackSection, 'scope'>, () => void> = {
    specification: () => proof.specification(of), measurement: () => records.measurement(of), stability: () => proof.stability(of), distribution: () => proof.distribution(of), capability: () => proof.capability(of),
    signals: () => records.signals(of, nameOfStream), incidents: () => records.incidents(of), missed: () => records.missed(of), changes: () => records.changes(of, nameOfStream), signatures: () => records.signatures(of),
    method: () => { for (const text of words.method) paper.paragraph(text); paper.paragraph(words.caution, { bold: true }); },
  };
  for (const section of Object.keys(write) as (keyof typeof write)[]) {
    if (!scope.template.sections.includes(section)) continue;
    paper.heading(1, words.sections[section]);
    write[section]();
  }
  annex(of);
  return paper.end((page, pages) => [`${title} · ${scope.plant.name} · ${moment(content.madeAt)} · ${sha256.slice(0, 16)}…`, fill(words.page, { page, pages })]);
}

function cover({ paper, content, format }: { paper: PdfPaper; content: PackContent; format: PackFormat }, { id, sha256, title, signatures }: { id: number; sha256: string; title: string; signatures: readonly PackSigned[] }): void {
  const { scope, inputs, results } = content;
  const { words, number, moment, figure } = format;
  paper.heading(1, title);
  const { facts } = words;
  paper.table([{ title: words.sections.scope, width: 3 }, { title: words.columns.value, width: 8 }], [
    [facts.pack, String(id)], [facts.customer, scope.customer], [facts.plant, scope.plant.name], [facts.products, scope.products.map(({ code, name }) => `${code} ${name}`).join('; ')],
    [facts.period, `${moment(scope.from)} ${words.until} ${moment(scope.to)}`], [facts.zone, scope.plant.timeZone], [facts.characteristics, String(inputs.subjects.length)], [facts.readings, String(readingsIn(inputs))], [facts.confidence, figure(scope.confidence)],
    [facts.thresholds, fill(words.thresholdText, { cpk: number(scope.template.cpk, 2), ppk: number(scope.template.ppk, 2), subgroups: scope.template.subgroups })],
    [facts.madeAt, moment(content.madeAt)], [facts.madeBy, content.madeBy.name], [facts.version, content.softwareVersion], [facts.head, content.chainHead ? `${content.chainHead.seq}:${content.chainHead.hash}` : '–'], [facts.hash, sha256],
  ]);
  paper.paragraph(words.caution, { bold: true });
  paper.paragraph(words.order);
  paper.heading(2, words.underPack);
  if (signatures.length === 0) paper.paragraph(words.noSignature);
  else paper.table(records.signatureColumns(words), signatures.map((each) => [`${each.kind} ${each.recordId}`, each.meaning, each.printedName, each.role, moment(each.at.toISOString()), each.comment]));
  paper.heading(1, words.sections.findings);
  if (results.findings.length === 0) paper.paragraph(words.noFindings);
  else {
    const counted = findingKind.options.map((kind) => [kind, results.findings.filter((finding) => finding.kind === kind).length] as const).filter(([, count]) => count > 0);
    paper.table([{ title: words.columns.finding, width: 7 }, { title: words.columns.count, width: 2, right: true }], counted.map(([kind, count]) => [words.findingKinds[kind], String(count)]));
    paper.paragraph(words.annexNote);
  }
}

/** Every finding, by kind, behind the proof: hundreds of lines would bury it. */
function annex({ paper, content, format }: { paper: PdfPaper; content: PackContent; format: PackFormat }): void {
  const { words } = format;
  if (content.results.findings.length === 0) return;
  paper.heading(1, words.sections.annex);
  for (const kind of findingKind.options) {
    const own = content.results.findings.filter((finding) => finding.kind === kind);
    if (own.length === 0) continue;
    paper.heading(2, words.findingKinds[kind]);
    paper.table([{ title: words.columns.about, width: 4 }, { title: words.columns.finding, width: 6 }], own.map((finding) => [finding.about, findingText(finding, format)]));
  }
}

function findingText({ kind, count, at, value, needed, signalId }: PackFinding, { words, moment, number, figure }: PackFormat): string {
  return fill(words.findings[kind], { count: count ?? 0, at: moment(at), value: number(value, 3), needed: needed === null ? '–' : figure(needed), signal: signalId ?? 0 });
}
