import { z } from 'zod';
import { chartPanels } from './chart-points.js';
import { drawChart } from './draw-chart.js';
import { drawHistogram } from './draw-histogram.js';
import type { PdfPaper } from './pdf-paper.js';
import type { PackContent, PackEntry, PackResult, PackSubject } from '../pack-content.js';
import { fill } from '../words/en.js';
import type { PackFormat } from '../words/format.js';

type Of = { paper: PdfPaper; content: PackContent; format: PackFormat };
const nameOf = ({ product, machine, characteristic }: PackSubject) => `${product.code}, ${machine.line} ${machine.code}, ${characteristic.name} (${characteristic.unit})`;
/** A heading that may stand alone at the top of a page says what it is of, and in which unit. */
const headOf = ({ machine, characteristic }: PackSubject, entry: PackEntry, format: PackFormat) => `${machine.code} ${characteristic.name} (${characteristic.unit}), ${rowName(entry, format)}`;
const rowName = (entry: PackEntry, { words }: PackFormat) => (entry.streamId === null ? words.pooled : [entry.unit?.code, entry.lane?.code].filter(Boolean).join(' ') || words.whole);

function* subjectsOf({ inputs, results }: PackContent): Generator<[PackSubject, PackResult]> {
  for (const [index, subject] of inputs.subjects.entries()) yield [subject, results.subjects[index] as PackResult];
}

const excludedPoint = z.object({ takenAt: z.string(), sequence: z.number(), reason: z.string() });
/** One point that was left out of a baseline, with its reason; as it was stored where it has another shape. */
function leftOut(point: unknown, { words, moment }: PackFormat): string {
  const read = excludedPoint.safeParse(point);
  return read.success ? fill(words.excludedPoint, { at: moment(read.data.takenAt), sequence: read.data.sequence, reason: read.data.reason }) : JSON.stringify(point);
}

export function specification({ paper, content, format: { words, number, moment } }: Of): void {
  const { columns } = words;
  paper.table([{ title: columns.characteristic, width: 4.4 }, { title: columns.revision, width: 1.6, right: true }, { title: columns.lsl, width: 1.7, right: true }, { title: columns.target, width: 1.7, right: true }, { title: columns.usl, width: 1.7, right: true }, { title: columns.from, width: 2.2 }, { title: columns.by, width: 2 }, { title: columns.reason, width: 3 }],
    [...subjectsOf(content)].flatMap(([subject, result]) => {
      const decimals = subject.characteristic.decimals;
      const rows = subject.revisions.filter(({ id }) => result.inForce.includes(id)).map((each) => [nameOf(subject), String(each.revision), number(each.lsl, decimals), number(each.target, decimals), number(each.usl, decimals), moment(each.effectiveFrom), each.author, each.reason]);
      return rows.length > 0 ? rows : [[nameOf(subject), '–', '–', '–', '–', '–', '', words.none]];
    }));
}

export function stability({ paper, content, format }: Of): void {
  const { words, number, moment } = format;
  for (const [subject, result] of subjectsOf(content)) {
    const decimals = subject.characteristic.decimals + 1;
    paper.heading(2, nameOf(subject));
    paper.table([{ title: words.columns.stream, width: 2.5 }, { title: words.columns.state, width: 2 }, { title: words.columns.judged, width: 1.2, right: true }, { title: words.columns.notJudged, width: 1.5, right: true }, { title: words.columns.signals, width: 1.2, right: true }, { title: words.columns.rules, width: 5 }],
      result.streams.map(({ entry }) => [rowName(entry, format), words.states[entry.stability.state], String(entry.stability.judged), String(entry.stability.notJudged), String(entry.stability.signals.length), entry.stability.rules.map((rule) => words.rules[rule] ?? rule).join(', ')]));
    for (const [index, { entry, chart }] of result.streams.entries()) {
      const stream = subject.streams[index];
      if (!stream) continue;
      const shown = chartPanels(stream, chart);
      const title = `${nameOf(subject)}, ${rowName(entry, format)}`;
      const legend = shown === null ? words.chart.none : `${shown.by ? fill(words.chart.inForce, { id: shown.by.id }) : words.chart.ofPeriod}; ${words.chart.beyond}`;
      if (shown) {
        paper.need(250);
        paper.heading(3, headOf(subject, entry, format));
        paper.figure(fill(words.chart.alt, { stream: title, points: shown.points, out: shown.out }), 190, drawChart(shown.panels, decimals, format));
      } else paper.heading(3, headOf(subject, entry, format));
      paper.paragraph(`${legend}. ${moment(stream.subgroups[0]?.[1] ?? null)} – ${moment(stream.subgroups.at(-1)?.[1] ?? null)}`, { size: 7.5 });
      if (chart) {
        const d = decimals + 2;
        paper.paragraph(fill(words.periodLine, {
          centre: number(chart.centre, d), sigma: number(chart.sigma, d), spread: words.spreads[stream.chartKind], spreadCentre: number(chart.spreadCentre, d), n: chart.n, lower: number(chart.mean.lower, d), upper: number(chart.mean.upper, d), spreadLower: number(chart.spread?.lower, d), spreadUpper: number(chart.spread?.upper, d),
        }), { size: 7.5 });
      }
      for (const limits of stream.limits) {
        const excluded = Array.isArray(limits.excluded) ? limits.excluded : [];
        if (excluded.length > 0) paper.paragraph(fill(words.excluded, { id: limits.id, text: excluded.map((each) => leftOut(each, format)).join('; ') }), { size: 7.5 });
      }
    }
  }
}

export function distribution({ paper, content, format }: Of): void {
  const { words, number, figure } = format;
  for (const [subject, result] of subjectsOf(content)) {
    const { decimals } = subject.characteristic;
    paper.heading(2, nameOf(subject));
    const entries = [...result.streams.map(({ entry }) => entry), ...(result.pooled ? [result.pooled] : [])];
    paper.table([{ title: words.columns.stream, width: 2.4 }, { title: words.columns.n, width: 1, right: true }, { title: words.columns.mean, width: 2, right: true }, { title: words.columns.sdOverall, width: 2, right: true }, { title: words.columns.min, width: 1.4, right: true }, { title: words.columns.max, width: 1.4, right: true }, { title: words.columns.a2, width: 2, right: true }, { title: words.columns.p, width: 1.4, right: true }, { title: words.columns.wording, width: 2.6 }],
      entries.map((entry) => [rowName(entry, format), String(entry.n), number(entry.mean, decimals + 2), number(entry.sdOverall, decimals + 3), number(entry.minimum, decimals), number(entry.maximum, decimals), number(entry.normality?.a2, 5), entry.normality ? `${entry.normality.pIsUpperBound ? '< ' : ''}${figure(Number(entry.normality.p.toPrecision(4)))}` : '–', entry.normality ? words.wording[entry.normality.wording] : '–']));
    for (const entry of entries) {
      if (!entry.histogram || entry.streamId === null) continue;
      paper.need(150);
      paper.heading(3, headOf(subject, entry, format));
      paper.figure(fill(words.chart.histogram, { stream: `${nameOf(subject)}, ${rowName(entry, format)}`, n: entry.n, min: number(entry.minimum, decimals), max: number(entry.maximum, decimals) }), 110, drawHistogram(entry.histogram, result.used, decimals, format));
    }
  }
}

export function capability({ paper, content, format }: Of): void {
  const { words, number, figure } = format;
  for (const [subject, result] of subjectsOf(content)) {
    paper.heading(2, nameOf(subject));
    for (const entry of [...result.streams.map((each) => each.entry), ...(result.pooled ? [result.pooled] : [])]) {
      const state = entry.streamId === null ? '' : `: ${words.states[entry.stability.state]}`;
      paper.heading(3, `${headOf(subject, entry, format)}${state}`);
      if (entry.refusal) paper.paragraph(words.refusals[entry.refusal.code], { size: 8 });
      const figures = entry.figures;
      if (figures) {
        const { cp, cpk, pp, ppk, cpm, intervals, ppkLowerBound, expectedPpm } = figures;
        const row = (name: string, value: number | null, interval: { low: number; high: number } | null) => [name, number(value, 5), number(interval?.low, 5), number(interval?.high, 5)];
        paper.table([{ title: words.columns.index, width: 4 }, { title: words.columns.value, width: 2, right: true }, { title: words.columns.low, width: 2, right: true }, { title: words.columns.high, width: 2, right: true }],
          [row('Cp', cp, intervals.cp), row('Cpk', cpk, intervals.cpk), row('Pp', pp, intervals.pp), row('Ppk', ppk, intervals.ppk), row(words.boundLower, ppkLowerBound, null), row('Cpm', cpm, null)]);
        paper.paragraph(`n = ${entry.n}, ${words.columns.sdWithin} ${number(entry.sdWithin, subject.characteristic.decimals + 5)}, ${words.columns.sdOverall} ${number(entry.sdOverall, subject.characteristic.decimals + 5)} ${subject.characteristic.unit}. ${fill(words.ppm, { below: number(expectedPpm.within.below, 2), above: number(expectedPpm.within.above, 2) })}`, { size: 8 });
      }
      if (entry.outside) paper.paragraph(fill(words.outside, { found: entry.outside.found, units: entry.outside.units, bound: figure(Number(entry.outside.upperBound.toPrecision(4))), confidence: figure(content.scope.confidence) }), { size: 8 });
    }
  }
}
