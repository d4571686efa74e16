import { implausible } from '#canmaking/plausibility';
import type { Layout, Mapping } from '#contract/ingest';
import { type Names, nameKey } from './names.js';
import { type Moment, parseMoment } from './parse-moment.js';
import { parseNumber } from './parse-number.js';

export type PlacedReading = {
  row: number; machineId: number; productId: number; takenAt: string; unitId: number | null; laneId: number | null; can: number; position: string;
  characteristicId: number; characteristic: string; value: number; gaugeId: number | null; inspector: string | null; note: string | null;
};
export type Refusal = { row: number; reason: string };

const CLOCK_SLACK_MS = 5 * 60_000;
/** Ways in which files write the same unit. */
const UNITS: Record<string, string> = { millimetre: 'mm', millimeter: 'mm', millimetres: 'mm', millimeters: 'mm', um: 'µm', 'μm': 'µm', micron: 'µm', microns: 'µm', micrometre: 'µm', micrometer: 'µm', percent: '%', inch: 'in', '"': 'in' };
const sameUnit = (text: string) => { const word = nameKey(text); return UNITS[word] ?? word; };

/** Maps rows of a file, one by one, to readings or to the reason why not. Keeps what it parsed before, since files repeat themselves. */
export class RowMapper {
  private readonly columns: (Mapping['columns'][number] & { index: number; unit: string | null })[];
  private readonly moments = new Map<string, Moment>();

  constructor(private readonly header: readonly string[], private readonly layout: Layout, private readonly mapping: Mapping, private readonly names: Names, private readonly now: Date) {
    this.columns = mapping.columns.flatMap((entry) => {
      const index = header.indexOf(entry.column);
      return index < 0 || entry.field === 'ignore' ? [] : [{ ...entry, index, unit: /[[(]\s*([^\])]+)\s*[\])]\s*$/.exec(entry.column)?.[1] ?? null }];
    });
  }

  /** What is missing before a single row can be read; empty when nothing is. */
  missing(): string[] {
    const has = (field: string) => this.columns.some((column) => column.field === field);
    const wide = has('reading');
    return [
      ...(has('takenAt') || (has('date') && has('time')) ? [] : ['a column for date and time (or one for each)']),
      ...(has('machine') || this.mapping.machine ? [] : ['a column for the machine, or one machine for all rows']),
      ...(has('product') || this.mapping.product ? [] : ['a column for the product, or one product for all rows']),
      ...(wide || has('value') ? [] : ['a column for the value, or columns for readings']),
      ...(wide || !has('value') || has('characteristic') || this.mapping.characteristic ? [] : ['a column for the characteristic, or one characteristic for all rows']),
      ...this.columns.filter((column) => column.field === 'reading' && !column.characteristic).map((column) => `the characteristic of column "${column.column}"`),
    ];
  }

  map(row: number, cells: readonly string[]): { readings: PlacedReading[]; refusals: Refusal[] } {
    const cell = (field: string) => { const column = this.columns.find((entry) => entry.field === field); return column ? (cells[column.index] ?? '').trim() : ''; };
    const refuse = (reason: string) => ({ readings: [], refusals: [{ row, reason }] });
    if (cells.length !== this.header.length) return refuse(`${this.header.length} columns expected, ${cells.length} found`);
    const machineText = cell('machine') || this.mapping.machine || '';
    const machine = this.names.machines.get(nameKey(machineText));
    if (!machine) return refuse(`unknown machine "${machineText}"`);
    const productText = cell('product') || this.mapping.product || '';
    const product = this.names.products.get(nameKey(productText));
    if (!product) return refuse(`unknown product "${productText}"`);
    const when = this.moment(cell('takenAt') || `${cell('date')} ${cell('time')}`);
    if ('wrong' in when) return refuse(`date and time: ${when.wrong} expected, not "${cell('takenAt') || `${cell('date')} ${cell('time')}`}"`);
    if (new Date(when.iso).getTime() > this.now.getTime() + CLOCK_SLACK_MS) return refuse(`date in the future: ${when.iso}`);
    const unitText = cell('unit');
    const unitId = unitText === '' ? null : machine.units.get(nameKey(unitText));
    if (unitId === undefined) return refuse(`machine ${machine.code} has no unit "${unitText}"`);
    const laneText = cell('lane');
    const laneId = laneText === '' ? null : machine.lanes.get(nameKey(laneText));
    if (laneId === undefined) return refuse(`the line of machine ${machine.code} has no lane "${laneText}"`);
    const gaugeText = cell('gauge');
    const gaugeId = gaugeText === '' ? null : this.names.gauges.get(nameKey(gaugeText));
    if (gaugeId === undefined) return refuse(`unknown gauge "${gaugeText}"`);
    const canText = cell('can');
    const can = canText === '' ? 1 : Number(canText);
    if (!Number.isInteger(can) || can < 1 || can > 100_000) return refuse(`can: a whole number from 1 expected, not "${canText}"`);
    const place = { row, machineId: machine.id, productId: product.id, takenAt: when.iso, unitId, laneId, can, gaugeId, inspector: cell('inspector').slice(0, 80) || null, note: cell('note').slice(0, 2000) || null };
    const stated = cell('unitOfMeasure');
    const wide = this.columns.filter((column) => column.field === 'reading');
    const asked = wide.length > 0
      ? wide.map((column) => ({ text: cells[column.index] ?? '', code: column.characteristic ?? '', position: column.position || column.column, unit: column.unit ?? stated }))
      : [{ text: cell('value'), code: cell('characteristic') || this.mapping.characteristic || '', position: cell('position') || 'any', unit: stated }];
    const answer: { readings: PlacedReading[]; refusals: Refusal[] } = { readings: [], refusals: [] };
    for (const reading of asked) {
      const read = this.reading(reading);
      if (typeof read === 'string') answer.refusals.push({ row, reason: read });
      else if (read) answer.readings.push({ ...place, ...read, position: reading.position.slice(0, 40) });
    }
    if (answer.readings.length === 0 && answer.refusals.length === 0) answer.refusals.push({ row, reason: 'no reading in the row' });
    return answer;
  }

  private reading({ text, code, unit }: { text: string; code: string; unit: string }): { characteristicId: number; characteristic: string; value: number } | string | null {
    const value = parseNumber(text, this.layout.decimal);
    if (value === null) return null;
    const characteristic = this.names.characteristics.get(nameKey(code));
    if (!characteristic) return `unknown characteristic "${code}"`;
    if (characteristic.derived) return `${characteristic.name} is derived by the server and not read from a file`;
    if (value === undefined) return `not a number: "${text.trim()}" for ${characteristic.name} (decimal ${this.layout.decimal === ',' ? 'comma' : 'point'} expected)`;
    if (unit !== '' && sameUnit(unit) !== sameUnit(characteristic.unit)) return `unit mismatch: ${characteristic.name} is kept in ${characteristic.unit}, the file says ${unit}`;
    const doubt = this.mapping.asMeasured ? null : implausible(value, { low: characteristic.plausibleLow, high: characteristic.plausibleHigh, gaugeStep: null });
    if (doubt) return `implausible: ${characteristic.name} ${value} ${characteristic.unit} is outside ${characteristic.plausibleLow ?? 'any'} to ${characteristic.plausibleHigh ?? 'any'}${doubt.suggestion === null ? '' : ` (${doubt.suggestion} would be possible)`}`;
    return { characteristicId: characteristic.id, characteristic: characteristic.code, value };
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
