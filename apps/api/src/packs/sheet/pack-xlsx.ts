import type { PackLanguage } from '#contract/packs';
import { chartConstants } from '#statistics/charts/constants';
import type { PackContent, PackEntry, PackResult, PackStream, PackSubject, PeriodChart } from '../pack-content.js';
import { packFormat, type PackFormat } from '../words/format.js';
import { columnName, formulaCell, numberCell, type SheetCell, textCell, xlsxBytes } from './sheet-cells.js';

/** Columns before the first reading, and before the first charted member. */
const BEFORE_READING = 3;
const BEFORE_MEMBER = 5;
/** Sheets are named by words without spaces, so that formulas need no quotes for them; the title of a sheet is in its first row. */
const [READINGS, MEMBERS] = ['Readings', 'Members'];

type Block = { first: number; last: number; width: number };

/** The pack as a spreadsheet: readings, charted members and spreads by formulas, and each figure recomputed beside ours with the difference. */
export async function packXlsx({ content, sha256, language }: { content: PackContent; sha256: string; language: PackLanguage }): Promise<Buffer> {
  const format = packFormat(language, content.scope.plant.timeZone);
  const { words } = format;
  const readings: SheetCell[][] = [[words.columns.stream, words.sheet.check, words.sheet.takenAt, words.sheet.reading].map((text) => textCell(text, true))];
  const members: SheetCell[][] = [[words.columns.stream, words.columns.mean, words.spreads['xbar-r'], words.spreads['xbar-s'], words.spreads['i-mr'], words.columns.n].map((text) => textCell(text, true))];
  const figures: SheetCell[][] = [];
  for (const [index, subject] of content.inputs.subjects.entries()) {
    const result = content.results.subjects[index] as PackResult;
    for (const [at, stream] of subject.streams.entries()) {
      const found = result.streams[at];
      if (found) figures.push(...figureRows(subject, stream, found.entry, found.chart, result, writeStream(stream, readings, members), figures.length + 5, format));
    }
  }
  const head: SheetCell[][] = [[textCell(`${words.title}: ${content.scope.title}`, true)], [textCell(`${content.scope.customer}; ${content.scope.from} ${words.until} ${content.scope.to}; SHA-256 ${sha256}`)], [textCell(words.sheet.note)],
    [words.columns.stream, words.columns.name, words.sheet.ours, words.sheet.recomputed, words.sheet.difference].map((text) => textCell(text, true))];
  return xlsxBytes([
    { sheet: 'Figures', data: [...head, ...figures, [], [textCell(words.caution)]], columns: [{ width: 44 }, { width: 30 }, { width: 20 }, { width: 20 }, { width: 16 }], stickyRowsCount: 4 },
    { sheet: READINGS as string, data: readings, columns: [{ width: 12 }, { width: 12 }, { width: 26 }], stickyRowsCount: 1 },
    { sheet: MEMBERS as string, data: members, stickyRowsCount: 1 },
    { sheet: 'Missing', data: [[words.columns.from, words.columns.until, words.columns.machine, words.columns.plan, words.columns.kind, words.columns.missed, words.columns.reason].map((text) => textCell(text, true)), ...content.inputs.missed.map((each) => [textCell(each.from), textCell(each.until ?? ''), textCell(`${each.line} ${each.machine}`), textCell(each.plan), textCell(each.kind), numberCell(each.missed), textCell(each.reason)])] },
  ], content.madeAt);
}

/** One row a subgroup in both sheets; answers where the members stand. */
function writeStream(stream: PackStream, readings: SheetCell[][], members: SheetCell[][]): Block {
  const first = members.length + 1;
  let width = 0;
  for (const [checkId, takenAt, , positions, values] of stream.subgroups) {
    const row = readings.length + 1;
    readings.push([numberCell(stream.id), numberCell(checkId), textCell(takenAt), ...values.map(numberCell)]);
    const step = stream.basis === 'can' ? positions : 1;
    const cells: SheetCell[] = [];
    for (let at = 0; at < values.length; at += step) {
      const isThere = values.slice(at, at + step).some((value) => value !== null);
      const [from, to] = [columnName(BEFORE_READING + at), columnName(BEFORE_READING + Math.min(at + step, values.length) - 1)];
      cells.push(isThere ? formulaCell(step === 1 ? `=${READINGS}!${from}${row}` : `=AVERAGE(${READINGS}!${from}${row}:${to}${row})`) : null);
    }
    width = Math.max(width, cells.length);
    const here = members.length + 1;
    const own = `${columnName(BEFORE_MEMBER)}${here}:${columnName(BEFORE_MEMBER + cells.length - 1)}${here}`;
    const several = cells.filter((cell) => cell !== null).length > 1;
    members.push([numberCell(stream.id), formulaCell(`=AVERAGE(${own})`), several ? formulaCell(`=MAX(${own})-MIN(${own})`) : null, several ? formulaCell(`=STDEV(${own})`) : null, here > first ? formulaCell(`=ABS(B${here}-B${here - 1})`) : null, ...cells]);
  }
  return { first, last: members.length, width };
}

/** Ours, recomputed, difference. `at`: the number of the first row. */
function figureRows(subject: PackSubject, stream: PackStream, entry: PackEntry, chart: PeriodChart | null, { used }: PackResult, { first, last, width }: Block, at: number, { words }: PackFormat): SheetCell[][] {
  const name = [subject.product.code, subject.machine.code, subject.characteristic.name, stream.unit?.code, stream.lane?.code, `#${stream.id}`].filter(Boolean).join(' ');
  const rows: SheetCell[][] = [];
  const place = new Map<string, string>();
  const add = (label: string, key: string, ours: number | null | undefined, formula: string | null) => {
    const row = at + rows.length;
    place.set(key, `D${row}`);
    rows.push([textCell(name), textCell(label), numberCell(ours), formula === null ? null : formulaCell(formula), formula !== null && ours !== null && ours !== undefined ? formulaCell(`=D${row}-C${row}`) : null]);
  };
  const fact = (label: string, key: string, value: number) => { const row = at + rows.length; place.set(key, `D${row}`); rows.push([textCell(name), textCell(label), null, numberCell(value)]); };
  const cell = (key: string) => place.get(key) as string;
  const column = (letter: string) => `${MEMBERS}!${letter}${first}:${letter}${last}`;
  const all = `${MEMBERS}!${columnName(BEFORE_MEMBER)}${first}:${columnName(BEFORE_MEMBER + Math.max(0, width - 1))}${last}`;
  add(words.columns.n, 'n', entry.n, `=COUNT(${all})`);
  add(words.columns.mean, 'mean', entry.mean, entry.mean === null ? null : `=AVERAGE(${all})`);
  add(words.columns.sdOverall, 'sd', entry.sdOverall, entry.sdOverall === null ? null : `=STDEV(${all})`);
  // Unequal sizes weigh their factors one by one, which a row of the sheet cannot show; centre and sigma of such a stream stand in the JSON file.
  const isEven = chart !== null && new Set(stream.subgroups.map((group) => group[4].filter((value) => value !== null).length)).size === 1 && (chart.n === width || stream.chartKind === 'i-mr');
  if (isEven && chart) {
    const n = stream.chartKind === 'i-mr' ? 2 : chart.n;
    const { d2, c4 } = chartConstants(n);
    const spread = { 'xbar-r': 'C', 'xbar-s': 'D', 'i-mr': 'E' }[stream.chartKind];
    fact(words.sheet.factor, 'factor', stream.chartKind === 'xbar-s' ? c4 : d2);
    add(`${words.chart.centre}, ${words.spreads[stream.chartKind]}`, 'spread', chart.spreadCentre, `=AVERAGE(${column(spread)})`);
    add(words.columns.sdWithin, 'sigma', chart.sigma, `=${cell('spread')}/${cell('factor')}`);
    const root = stream.chartKind === 'i-mr' ? '' : `/SQRT(${chart.n})`;
    add(words.chart.centre, 'centre', chart.centre, `=AVERAGE(${column('B')})`);
    add(words.chart.lower, 'lower', chart.mean.lower, `=${cell('centre')}-3*${cell('sigma')}${root}`);
    add(words.chart.upper, 'upper', chart.mean.upper, `=${cell('centre')}+3*${cell('sigma')}${root}`);
  }
  const figures = entry.figures;
  if (!figures || !used) return rows;
  if (used.lsl !== null) fact(words.columns.lsl, 'lsl', used.lsl);
  if (used.usl !== null) fact(words.columns.usl, 'usl', used.usl);
  const sides = (sigma: string) => [used.usl === null ? null : `(${cell('usl')}-${cell('mean')})/(3*${cell(sigma)})`, used.lsl === null ? null : `(${cell('mean')}-${cell('lsl')})/(3*${cell(sigma)})`].filter((side) => side !== null);
  const width6 = (sigma: string) => (used.lsl === null || used.usl === null ? null : `=(${cell('usl')}-${cell('lsl')})/(6*${cell(sigma)})`);
  if (isEven) {
    if (figures.cp !== null) add('Cp', 'cp', figures.cp, width6('sigma'));
    if (figures.cpk !== null) add('Cpk', 'cpk', figures.cpk, `=MIN(${sides('sigma').join(',')})`);
  }
  if (figures.pp !== null) add('Pp', 'pp', figures.pp, width6('sd'));
  if (figures.ppk !== null) add('Ppk', 'ppk', figures.ppk, `=MIN(${sides('sd').join(',')})`);
  return rows;
}
