import { implausible } from '#canmaking/plausibility';
import type { columnFields, Layout, Mapping, RowReason } from '#contract/ingest';
import { type Lookup, type NamedCharacteristic, type NamedMachine, type Names, nameKey } from './names.js';
import { type Moment, parseMoment } from './parse-moment.js';
import { parseNumber } from './parse-number.js';
import { unitKey } from './units-of-measure.js';

export type PlacedReading = {
  row: number; machineId: number; productId: number; takenAt: string; checkNumber: string; unitId: number | null; laneId: number | null; can: number; position: string;
  characteristicId: number; characteristic: string; value: number; gaugeId: number | null; inspector: string | null; note: string | null;
};
/** What is wrong in a row, and what is expected; `sort` is what refusals of the same sort have in common, without the values. */
export type Refusal = { row: number; reason: string; sort: string; /** The same for a screen; null where a stored check was refused as a whole. */ why: RowReason | null };
type Field = (typeof columnFields)[number];
type Place = Omit<PlacedReading, 'characteristicId' | 'characteristic' | 'value' | 'position'>;
type Wrong = Omit<Refusal, 'row'>;
type Asked = { text: string; code: string; position: string; measuredIn: string };

const CLOCK_SLACK_MS = 5 * 60_000;
/** As wide as a check may hold: beyond it sums of squares are no numbers any more. */
const MOST = 1e9;

/** Maps rows of a file, one by one, to readings or to the reason why not. Keeps what it parsed before, since files repeat themselves. */
export class RowMapper {
  private readonly at = new Map<Field, number>();
  private readonly wide: { index: number; characteristic: string; position: string; measuredIn: string }[] = [];
  private readonly valueIn: string;
  private readonly moments = new Map<string, Moment>();

  constructor(private readonly header: readonly string[], private readonly layout: Layout, private readonly mapping: Mapping, private readonly names: Names, private readonly now: Date) {
    const places = new Map(header.map((column, index) => [column, index]));
    for (const column of mapping.columns) {
      const index = places.get(column.column);
      if (index === undefined || column.field === 'ignore') continue;
      if (column.field === 'reading') this.wide.push({ index, characteristic: column.characteristic ?? '', position: column.position?.trim() || column.column.slice(0, 40), measuredIn: column.measuredIn?.trim() ?? '' });
      else if (!this.at.has(column.field)) this.at.set(column.field, index);
    }
    this.valueIn = mapping.columns.find((column) => column.field === 'value')?.measuredIn?.trim() ?? '';
  }

  /** What is missing before a single row can be read; empty when nothing is. */
  missing(): string[] {
    const has = (field: Field) => this.at.has(field);
    const wide = this.wide.length > 0;
    const { columns } = this.mapping;
    const twice = columns.filter((column, index) => column.field !== 'ignore' && column.field !== 'reading' && columns.findIndex((other) => other.field === column.field) < index);
    return [
      ...(has('takenAt') || (has('date') && has('time')) ? [] : ['a column for date and time (or one for each)']),
      ...(has('machine') || this.mapping.machine ? [] : ['a column for the machine, or one machine for all rows']),
      ...(has('product') || this.mapping.product ? [] : ['a column for the product, or one product for all rows']),
      ...(wide || has('value') ? [] : ['a column for the value, or columns for readings']),
      ...(wide && has('value') ? ['a choice: either one column for the value or columns for readings, not both'] : []),
      ...(wide || !has('value') || has('characteristic') || this.mapping.characteristic ? [] : ['a column for the characteristic, or one characteristic for all rows']),
      ...columns.filter((column) => column.field === 'reading' && !column.characteristic).map((column) => `the characteristic of column "${column.column}"`),
      ...twice.map((column) => `another meaning for column "${column.column}", whose field has a column already`),
    ];
  }

  map(row: number, cells: readonly string[]): { readings: PlacedReading[]; refusals: Refusal[] } {
    const place = this.place(row, cells);
    if ('reason' in place) return { readings: [], refusals: [{ row, ...place }] };
    const stated = this.cell(cells, 'unitOfMeasure');
    const asked: Asked[] = this.wide.length > 0
      ? this.wide.map((column) => ({ text: cells[column.index] ?? '', code: column.characteristic, position: column.position, measuredIn: stated || column.measuredIn }))
      : [{ text: this.cell(cells, 'value'), code: this.cell(cells, 'characteristic') || this.mapping.characteristic || '', position: this.cell(cells, 'position') || 'any', measuredIn: stated || this.valueIn }];
    const answer: { readings: PlacedReading[]; refusals: Refusal[] } = { readings: [], refusals: [] };
    for (const one of asked) {
      const read = this.reading(one);
      if (read === null) continue;
      if ('reason' in read) answer.refusals.push({ row, ...read });
      else answer.readings.push({ ...place, ...read, position: one.position });
    }
    if (answer.readings.length === 0 && answer.refusals.length === 0) answer.refusals.push({ row, ...wrong('no-reading', {}, 'value: at least one reading in the row expected, all are empty') });
    return answer;
  }

  private cell(cells: readonly string[], field: Field): string {
    const index = this.at.get(field);
    return index === undefined ? '' : (cells[index] ?? '').trim();
  }

  /** Machine, product, moment, unit, lane, can: what all readings of the row have in common. */
  private place(row: number, cells: readonly string[]): Place | Wrong {
    if (cells.length !== this.header.length) return wrong('columns', { expected: this.header.length, found: cells.length }, `${this.header.length} columns expected as in the header line, ${cells.length} found`);
    const machine = named<NamedMachine>('machine', this.cell(cells, 'machine') || this.mapping.machine || '', this.names.machines, 'the code or name of a machine of this plant');
    if ('reason' in machine) return machine;
    const product = named('product', this.cell(cells, 'product') || this.mapping.product || '', this.names.products, 'the code or name of a product of this plant');
    if ('reason' in product) return product;
    const whenText = this.cell(cells, 'takenAt') || `${this.cell(cells, 'date')} ${this.cell(cells, 'time')}`.trim();
    const when = this.moment(whenText);
    if ('wrong' in when) return wrong(when.code, { ...when.values, text: whenText }, `date and time: ${when.wrong} expected, not "${whenText}"`, `date and time: ${when.wrong} expected`);
    if (new Date(when.iso).getTime() > this.now.getTime() + CLOCK_SLACK_MS) return wrong('future', { text: whenText, utc: when.iso }, `date in the future: ${whenText} (${when.iso} in UTC)`, 'date in the future');
    const unitId = this.optional(cells, 'unit', machine.found.units, `a unit of machine ${machine.found.code}`);
    if (isWrong(unitId)) return unitId;
    const laneId = this.optional(cells, 'lane', machine.found.lanes, `a lane of the line of machine ${machine.found.code}`);
    if (isWrong(laneId)) return laneId;
    const gaugeId = this.optional(cells, 'gauge', this.names.gauges, 'the code or name of a gauge of this plant');
    if (isWrong(gaugeId)) return gaugeId;
    const canText = this.cell(cells, 'can');
    const can = canText === '' ? 1 : Number(canText);
    if (!/^\d{0,6}$/.test(canText) || can < 1 || can > 100_000) return wrong('can', { text: canText }, `can: a whole number from 1 to 100000 expected, not "${canText}"`, 'can: a whole number from 1 to 100000 expected');
    if (this.cell(cells, 'position').length > 40) return wrong('position', { text: this.cell(cells, 'position').slice(0, 60) }, `position: at most 40 characters expected, not "${this.cell(cells, 'position').slice(0, 60)}…"`, 'position: at most 40 characters expected');
    return {
      row, machineId: machine.found.id, productId: product.found.id, takenAt: when.iso, checkNumber: this.cell(cells, 'check'), unitId, laneId, gaugeId, can,
      inspector: this.cell(cells, 'inspector').slice(0, 80) || null, note: this.cell(cells, 'note').slice(0, 2000) || null,
    };
  }

  private optional(cells: readonly string[], field: Field, lookup: Lookup<number>, expected: string): number | null | Wrong {
    const text = this.cell(cells, field);
    if (text === '') return null;
    const found = named(field, text, lookup, expected);
    return 'reason' in found ? found : found.found;
  }

  private reading({ text, code, measuredIn }: Asked): { characteristicId: number; characteristic: string; value: number } | Wrong | null {
    const number = parseNumber(text, this.layout.decimal);
    if (number === null) return null;
    const known = named<NamedCharacteristic>('characteristic', code, this.names.characteristics, 'the code or name of a characteristic of this plant');
    if ('reason' in known) return known;
    const { found } = known;
    if (found.derived) return wrong('derived', { name: found.name }, `characteristic: ${found.name} is derived from other readings and not read from a file`);
    const decimal = this.layout.decimal === ',' ? 'comma' : 'point';
    if (number === undefined) return wrong('number', { name: found.name, decimal, text: text.trim() }, `${found.name}: a number with decimal ${decimal} expected, not "${text.trim()}"`, `${found.name}: a number with decimal ${decimal} expected`);
    const value = this.converted(number, measuredIn, found);
    if (value === null) return wrong('unit', { name: found.name, unit: found.unit, measuredIn }, `${found.name}: unit mismatch: kept in ${found.unit}, the file says ${measuredIn}, and no conversion is stated`);
    if (Math.abs(value) > MOST) return wrong('too-large', { name: found.name, most: MOST, text: text.trim() }, `${found.name}: a number up to ${MOST} expected, not "${text.trim()}"`, `${found.name}: a number up to ${MOST} expected`);
    const doubt = this.mapping.asMeasured ? null : implausible(value, { low: found.plausibleLow, high: found.plausibleHigh, gaugeStep: null });
    if (doubt) {
      const range = `${found.plausibleLow ?? 'any'} to ${found.plausibleHigh ?? 'any'} ${found.unit}`;
      return wrong('implausible', { name: found.name, low: found.plausibleLow, high: found.plausibleHigh, unit: found.unit, value, suggestion: doubt.suggestion }, `${found.name}: implausible: ${range} expected, not ${value}${doubt.suggestion === null ? '' : ` (${doubt.suggestion} would be possible: did the decimal slip?)`}`, `${found.name}: implausible: ${range} expected`);
    }
    return { characteristicId: found.id, characteristic: found.code, value };
  }

  /** Null: the file states another unit of measure, and nobody said how to convert it. */
  private converted(value: number, measuredIn: string, { unit }: NamedCharacteristic): number | null {
    if (measuredIn === '' || unitKey(measuredIn) === unitKey(unit)) return value;
    const factor = this.mapping.conversions.find((entry) => unitKey(entry.from) === unitKey(measuredIn) && unitKey(entry.to) === unitKey(unit))?.factor;
    // 407 × 0.001 is 0.40700000000000003 in binary; twelve digits are far beyond any gauge.
    return factor === undefined ? null : Number((value * factor).toPrecision(12));
  }

  private moment(text: string): Moment {
    let known = this.moments.get(text);
    if (!known) {
      known = parseMoment(text, this.layout);
      this.moments.set(text, known);
    }
    return known;
  }
}

const wrong = (code: RowReason['code'], values: RowReason['values'], reason: string, sort = reason): Wrong => ({ reason, sort, why: { code, values } });
const isWrong = (value: number | null | Wrong): value is Wrong => typeof value === 'object' && value !== null;

function named<Value>(field: string, text: string, lookup: Lookup<Value>, expected: string): { found: Value } | Wrong {
  const found = lookup.get(nameKey(text));
  if (found !== undefined && found !== null) return { found };
  return found === null ? wrong('ambiguous-name', { field, text }, `${field}: several are called "${text}": the code of one expected`) : wrong('unknown-name', { field, text }, `unknown ${field} "${text}": ${expected} expected`);
}
