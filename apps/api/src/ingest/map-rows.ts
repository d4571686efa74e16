import type { columnFields, Layout, Mapping } from '#contract/ingest';
import { remember } from '../platform/remember.js';
import { findNamed } from './find-named.js';
import { checkKey } from './group-checks.js';
import type { Lookup, Names } from './names.js';
import { parseMoment } from './parse-moment.js';
import { isWrong, type PlacedRow, type Refusal, type Spot, type Wrong, wrong } from './placed-row.js';
import { ValueReader } from './read-value.js';

type Field = (typeof columnFields)[number];
type Column = { index: number; reader: ValueReader; spot: Spot };

const CLOCK_SLACK_MS = 5 * 60_000;
const MOST_STATED = 100;
const MOST_READERS = 10_000;

/**
 * Maps rows of a file, one by one, to readings or to the reason why not. Keeps what it found out before, since files repeat
 * themselves: what a text names, what a column reads. A row without gaps makes two objects, however many readings it has.
 */
export class RowMapper {
  private readonly at = new Map<Field, number>();
  private readonly wide: { index: number; characteristic: string; position: string; measuredIn: string }[] = [];
  private readonly valueIn: string;
  private readonly moments = new Map<string, string | Wrong>();
  private readonly found = new Map<string, { found: unknown } | Wrong>();
  private readonly readers = new Map<string, ValueReader>();
  private readonly spots = new Map<string, Spot>();
  private readonly columns = new Map<string, { columns: Column[]; spots: Spot[] }>();
  /** Of files that name characteristic and position in cells. */
  private readonly single = new Map<string, { columns: Column[]; spots: Spot[] }>();
  // Most rows say the same as the row before.
  private readonly machineOf = remember((text: string) => this.named('machine', text, this.names.machines, 'the code or name of a machine of this plant'));
  private readonly productOf = remember((text: string) => this.named('product', text, this.names.products, 'the code or name of a product of this plant'));
  private readonly momentOfText = remember((text: string) => this.moment(text));

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

  /** Where the columns stand that say of which check a row is. */
  momentColumns(): Set<number> {
    return new Set((['machine', 'product', 'takenAt', 'date', 'time'] as const).flatMap((field) => this.at.get(field) ?? []));
  }

  /** Machine, product and moment of a row, of which these cells suffice; null where one of them is refused. */
  momentOf(cells: readonly string[]): { key: string; takenAt: string } | null {
    const [machine, product, takenAt] = [this.machine(cells), this.product(cells), this.takenAt(cells)];
    return isWrong(machine) || isWrong(product) || isWrong(takenAt) ? null : { key: checkKey({ machineId: machine.found.id, productId: product.found.id, takenAt }), takenAt };
  }

  /** The good readings of a row (`placed` is null where there are none) and what is wrong with the others. */
  map(row: number, cells: readonly string[]): { placed: PlacedRow | null; refusals: Refusal[] } {
    const place = this.place(row, cells);
    if (isWrong(place)) return { placed: null, refusals: [{ row, ...place }] };
    const { columns, spots } = this.wide.length > 0 ? this.columnsIn(this.cell(cells, 'unitOfMeasure')) : this.columnOf(cells);
    const values = new Array<number>(columns.length);
    const refusals: Refusal[] = [];
    let count = 0;
    let there: Spot[] | null = null;
    for (let index = 0; index < columns.length; index += 1) {
      const column = columns[index] as Column;
      const read = column.reader.read(cells[column.index] ?? '');
      if (typeof read === 'number') {
        values[count] = read;
        count += 1;
        there?.push(column.spot);
        continue;
      }
      there ??= spots.slice(0, index);
      if (read !== null) refusals.push({ row, ...read });
    }
    values.length = count;
    if (count === 0 && refusals.length === 0) refusals.push({ row, ...wrong('no-reading', {}, 'value: at least one reading in the row expected, all are empty') });
    if (count === 0) return { placed: null, refusals };
    place.spots = there ?? spots;
    place.values = values;
    return { placed: place, refusals };
  }

  /** The columns of readings, where the row states the unit of measure (or does not: ''). */
  private columnsIn(stated: string): { columns: Column[]; spots: Spot[] } {
    let known = this.columns.get(stated);
    if (!known) {
      const columns = this.wide.map(({ index, characteristic, position, measuredIn }) => this.column(index, characteristic, position, stated || measuredIn));
      known = { columns, spots: columns.map(({ spot }) => spot) };
      // A file that states another unit in each row is no file: neither these nor their readers must fill the memory.
      if (this.columns.size >= MOST_STATED) this.columns.clear();
      this.columns.set(stated, known);
    }
    return known;
  }

  /** The value column of a row that names its characteristic and position itself. */
  private columnOf(cells: readonly string[]): { columns: Column[]; spots: Spot[] } {
    const [code, position, measuredIn] = [this.cell(cells, 'characteristic') || this.mapping.characteristic || '', this.cell(cells, 'position') || 'any', this.cell(cells, 'unitOfMeasure') || this.valueIn];
    if (this.single.size >= MOST_READERS) this.single.clear();
    return kept(this.single, `${code}\n${measuredIn}\n${position}`, () => {
      const column = this.column(this.at.get('value') ?? -1, code, position, measuredIn);
      return { columns: [column], spots: [column.spot] };
    });
  }

  private column(index: number, code: string, position: string, measuredIn: string): Column {
    if (this.readers.size >= MOST_READERS) this.readers.clear();
    const reader = kept(this.readers, `${code}\n${measuredIn}`, () => new ValueReader(code, measuredIn, this.layout, this.mapping, this.names));
    // Of an unknown characteristic no value is read: its spot is never filled.
    return { index, reader, spot: kept(this.spots, `${reader.characteristicId}\n${position}`, () => ({ characteristicId: reader.characteristicId, characteristic: reader.code, position })) };
  }

  private cell(cells: readonly string[], field: Field): string {
    const index = this.at.get(field);
    return index === undefined ? '' : (cells[index] ?? '').trim();
  }

  private named<Value>(field: string, text: string, lookup: Lookup<Value>, expected: string, of = 0): { found: Value } | Wrong {
    return kept(this.found, `${field}\n${of}\n${text}`, () => findNamed(field, text, lookup, expected)) as { found: Value } | Wrong;
  }

  /** Machine, product, moment, unit, lane, can: what all readings of the row have in common; the readings are yet to come. */
  private place(row: number, cells: readonly string[]): PlacedRow | Wrong {
    if (cells.length !== this.header.length) return wrong('columns', { expected: this.header.length, found: cells.length }, `${this.header.length} columns expected as in the header line, ${cells.length} found`);
    const machine = this.machine(cells);
    if (isWrong(machine)) return machine;
    const product = this.product(cells);
    if (isWrong(product)) return product;
    const takenAt = this.takenAt(cells);
    if (isWrong(takenAt)) return takenAt;
    const unitId = this.optional(cells, 'unit', machine.found.units, `a unit of machine ${machine.found.code}`, machine.found.id);
    if (isWrong(unitId)) return unitId;
    const laneId = this.optional(cells, 'lane', machine.found.lanes, `a lane of the line of machine ${machine.found.code}`, machine.found.id);
    if (isWrong(laneId)) return laneId;
    const gaugeId = this.optional(cells, 'gauge', this.names.gauges, 'the code or name of a gauge of this plant');
    if (isWrong(gaugeId)) return gaugeId;
    const canText = this.cell(cells, 'can');
    const can = canText === '' ? 1 : Number(canText);
    if (!/^\d{0,6}$/.test(canText) || can < 1 || can > 100_000) return wrong('can', { text: canText }, `can: a whole number from 1 to 100000 expected, not "${canText}"`, 'can: a whole number from 1 to 100000 expected');
    const position = this.cell(cells, 'position');
    if (position.length > 40) return wrong('position', { text: position.slice(0, 60) }, `position: at most 40 characters expected, not "${position.slice(0, 60)}…"`, 'position: at most 40 characters expected');
    return {
      row, machineId: machine.found.id, productId: product.found.id, takenAt, checkNumber: this.cell(cells, 'check'), unitId, laneId, can, gaugeId,
      inspector: this.cell(cells, 'inspector').slice(0, 80) || null, note: this.cell(cells, 'note').slice(0, 2000) || null, spots: [], values: [],
    };
  }

  private machine(cells: readonly string[]) {
    return this.machineOf(this.cell(cells, 'machine') || this.mapping.machine || '');
  }

  private product(cells: readonly string[]) {
    return this.productOf(this.cell(cells, 'product') || this.mapping.product || '');
  }

  private takenAt(cells: readonly string[]): string | Wrong {
    return this.momentOfText(this.cell(cells, 'takenAt') || `${this.cell(cells, 'date')} ${this.cell(cells, 'time')}`.trim());
  }

  private optional(cells: readonly string[], field: Field, lookup: Lookup<number>, expected: string, of = 0): number | null | Wrong {
    const text = this.cell(cells, field);
    if (text === '') return null;
    const found = this.named(field, text, lookup, expected, of);
    return isWrong(found) ? found : found.found;
  }

  private moment(text: string): string | Wrong {
    return kept(this.moments, text, () => {
      const when = parseMoment(text, this.layout);
      if ('wrong' in when) return wrong(when.code, { ...when.values, text }, `date and time: ${when.wrong} expected, not "${text}"`, `date and time: ${when.wrong} expected`);
      return new Date(when.iso).getTime() > this.now.getTime() + CLOCK_SLACK_MS ? wrong('future', { text, utc: when.iso }, `date in the future: ${text} (${when.iso} in UTC)`, 'date in the future') : when.iso;
    });
  }
}

function kept<Value>(known: Map<string, Value>, key: string, find: () => Value): Value {
  const there = known.get(key);
  if (there !== undefined) return there;
  const found = find();
  known.set(key, found);
  return found;
}
