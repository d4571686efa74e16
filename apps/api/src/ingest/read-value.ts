import { implausible } from '#canmaking/plausibility';
import type { Layout, Mapping } from '#contract/ingest';
import { findNamed } from './find-named.js';
import type { NamedCharacteristic, Names } from './names.js';
import { parseNumber } from './parse-number.js';
import { isWrong, type Wrong, wrong } from './placed-row.js';
import { unitKey } from './units-of-measure.js';

/** As wide as a check may hold: beyond it sums of squares are no numbers any more. */
const MOST = 1e9;

/** Reads the cells of one characteristic in one unit of measure. What depends on the two alone is found out once, not with each of a million cells. */
export class ValueReader {
  readonly characteristicId: number;
  readonly code: string;
  private readonly found: NamedCharacteristic | null;
  private readonly refusal: Wrong | null;
  /** 1: kept as measured; null: another unit of measure, and nobody said how to convert it. */
  private readonly factor: number | null = 1;
  private readonly low: number = -Infinity;
  private readonly high: number = Infinity;

  constructor(code: string, private readonly measuredIn: string, private readonly layout: Layout, private readonly mapping: Mapping, names: Names) {
    const found = findNamed('characteristic', code, names.characteristics, 'the code or name of a characteristic of this plant');
    this.found = isWrong(found) ? null : found.found;
    this.refusal = isWrong(found) ? found : found.found.derived ? wrong('derived', { name: found.found.name }, `characteristic: ${found.found.name} is derived from other readings and not read from a file`) : null;
    this.characteristicId = this.found?.id ?? 0;
    this.code = this.found?.code ?? code;
    if (!this.found) return;
    const { unit, plausibleLow, plausibleHigh } = this.found;
    if (measuredIn !== '' && unitKey(measuredIn) !== unitKey(unit)) this.factor = mapping.conversions.find((entry) => unitKey(entry.from) === unitKey(measuredIn) && unitKey(entry.to) === unitKey(unit))?.factor ?? null;
    if (!mapping.asMeasured) [this.low, this.high] = [plausibleLow ?? -Infinity, plausibleHigh ?? Infinity];
  }

  /** The reading in the characteristic's own unit; null where the cell is empty. */
  read(text: string): number | null | Wrong {
    const number = parseNumber(text, this.layout.decimal);
    if (number === null) return null;
    if (this.refusal !== null) return this.refusal;
    if (number === undefined || this.factor === null) return this.refuse(text, number);
    // 407 × 0.001 is 0.40700000000000003 in binary; twelve digits are far beyond any gauge.
    const value = this.factor === 1 ? number : Number((number * this.factor).toPrecision(12));
    return value >= this.low && value <= this.high && Math.abs(value) <= MOST ? value : this.refuse(text, value);
  }

  private refuse(text: string, value: number | undefined): Wrong | number {
    const { name, unit, plausibleLow, plausibleHigh } = this.found as NamedCharacteristic;
    const decimal = this.layout.decimal === ',' ? 'comma' : 'point';
    if (value === undefined) return wrong('number', { name, decimal, text: text.trim() }, `${name}: a number with decimal ${decimal} expected, not "${text.trim()}"`, `${name}: a number with decimal ${decimal} expected`);
    if (this.factor === null) return wrong('unit', { name, unit, measuredIn: this.measuredIn }, `${name}: unit mismatch: kept in ${unit}, the file says ${this.measuredIn}, and no conversion is stated`);
    if (Math.abs(value) > MOST) return wrong('too-large', { name, most: MOST, text: text.trim() }, `${name}: a number up to ${MOST} expected, not "${text.trim()}"`, `${name}: a number up to ${MOST} expected`);
    const doubt = this.mapping.asMeasured ? null : implausible(value, { low: plausibleLow, high: plausibleHigh, gaugeStep: null });
    if (!doubt) return value;
    const range = `${plausibleLow ?? 'any'} to ${plausibleHigh ?? 'any'} ${unit}`;
    return wrong('implausible', { name, low: plausibleLow, high: plausibleHigh, unit, value, suggestion: doubt.suggestion }, `${name}: implausible: ${range} expected, not ${value}${doubt.suggestion === null ? '' : ` (${doubt.suggestion} would be possible: did the decimal slip?)`}`, `${name}: implausible: ${range} expected`);
  }
}
