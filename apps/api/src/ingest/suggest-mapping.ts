import type { Layout, Mapping } from '#contract/ingest';
import { type Lookup, type NamedCharacteristic, type Names, nameKey } from './names.js';
import { parseNumber } from './parse-number.js';
import { unitInName } from './units-of-measure.js';

type Column = Mapping['columns'][number];
// Words of the trade in English and German, as column headers have them.
const WORDS: [Column['field'], RegExp][] = [
  ['takenAt', /^(date.?time|date (and|\+|\/|&) time|timestamp|taken.?at|time|date|datum|zeit|datum.?zeit|zeitpunkt|picked|sampled)$/], ['date', /^(date|datum|day|tag)$/], ['time', /^(time|zeit|uhrzeit|clock|hour)$/],
  ['machine', /^(machine|maschine|mc|station)$/], ['product', /^(product|produkt|can.?type|article|artikel)$/], ['unit', /^(head|kopf|spindle|spindel|seaming.?head|slitter.?lane)$/],
  ['lane', /^(lane|half|halbe|hälfte|ab)$/], ['can', /^(can|dose|can.?no\.?|can.?number|sample|probe|body)$/], ['position', /^(position|point|punkt|pos|place|angle)$/], ['characteristic', /^(characteristic|merkmal|measure|measurement|feature)$/],
  ['value', /^(value|wert|reading|result|messwert)$/], ['unitOfMeasure', /^(unit|einheit|uom|unit of measure)$/], ['check', /^(check|check.?(no\.?|number|id)|prüfung|prüf.?nr\.?|prüfnummer|teardown.?(no\.?|number)?)$/],
  ['gauge', /^(gauge|messmittel|instrument)$/], ['inspector', /^(inspector|prüfer|operator|technician|by|who)$/], ['note', /^(note|notes|remark|remarks|bemerkung|comment|kommentar)$/],
];
const CLOCK = /^\d{1,2}:\d{2}(:\d{2})?(\s*[ap]m)?$/i;
const DAY = /^\d{1,4}([./-])\d{1,2}\1\d{1,4}$/;

/**
 * What the columns seem to hold, by their names and first values: a suggestion. Columns that are left over and hold
 * numbers are readings of the wide form, when their name begins with a characteristic's ("overlap front" of "Weld overlap").
 */
export function suggestMapping(header: readonly string[], sample: readonly (readonly string[])[], names: Names, decimal: Layout['decimal']): Mapping {
  const units = [...new Set(all(names.characteristics).map((entry) => entry.unit))];
  const parts = header.map((column) => unitInName(column, units));
  const used = new Set<Column['field']>();
  const columns = header.map((column, index): Column => {
    const cells = sample.map((row) => (row[index] ?? '').trim()).filter((cell) => cell !== '');
    const word = nameKey(parts[index]?.name ?? column);
    const field = fieldOf(word, cells, names, used);
    if (!field) return { column, field: 'ignore' };
    used.add(field);
    return { column, field, ...(field === 'value' && parts[index]?.unit ? { measuredIn: parts[index].unit } : {}) };
  });
  if (used.has('takenAt')) for (const entry of columns) if (entry.field === 'date' || entry.field === 'time') entry.field = 'ignore';
  if (used.has('value')) return { columns, conversions: [], asMeasured: false };

  const machineColumn = columns.findIndex((entry) => entry.field === 'machine');
  const machine = names.machines.get(nameKey(sample[0]?.[machineColumn] ?? ''));
  const local = all(names.characteristics).filter((entry) => !entry.derived && (!machine || entry.stepKind === machine.stepKind));
  header.forEach((column, index) => {
    const entry = columns[index];
    const numeric = sample.some((row) => typeof parseNumber(row[index] ?? '', decimal) === 'number');
    if (entry?.field !== 'ignore' || !numeric) return;
    const { name, unit } = parts[index] ?? { name: column, unit: null };
    // One characteristic at this step: the column name is the position.
    const found = splitName(nameKey(name), local) ?? (local.length === 1 && local[0] ? { code: local[0].code, position: name.trim() } : null);
    if (found) columns[index] = { column, field: 'reading', characteristic: found.code, position: (found.position || 'any').slice(0, 40), ...(unit === null ? {} : { measuredIn: unit }) };
  });
  return { columns, conversions: [], asMeasured: false };
}

const all = <Value>(lookup: Lookup<Value>): Value[] => [...new Set([...lookup.values()].filter((value) => value !== null))];

function fieldOf(word: string, cells: readonly string[], names: Names, used: ReadonlySet<Column['field']>): Column['field'] | undefined {
  const every = (pattern: RegExp) => cells.length > 0 && cells.every((cell) => pattern.test(cell));
  return WORDS.find(([field, pattern]) => {
    if (used.has(field) || !pattern.test(word)) return false;
    // "Time" is a date and time in one file and the clock beside a date in another; "unit" is mm here and a head there.
    if (field === 'takenAt') return !every(CLOCK) && !every(DAY);
    if (field === 'unitOfMeasure') return !cells.some((cell) => all(names.machines).some((machine) => machine.units.has(nameKey(cell))));
    return true;
  })?.[0] ?? (word === 'unit' && !used.has('unit') ? 'unit' : undefined);
}

function splitName(word: string, characteristics: readonly NamedCharacteristic[]): { code: string; position: string } | null {
  let best: { code: string; position: string; length: number } | null = null;
  for (const { code, name } of characteristics) {
    const last = nameKey(name).split(' ').at(-1) ?? '';
    // The last word alone names a characteristic only where no other one ends with it.
    const shared = characteristics.some((other) => other.code !== code && nameKey(other.name).split(' ').at(-1) === last);
    for (const form of [nameKey(name), nameKey(code), nameKey(code).replaceAll('-', ' '), shared ? '' : last]) {
      if (form === '' || form.length <= (best?.length ?? 0) || !(word === form || word.startsWith(`${form} `) || word.startsWith(`${form}_`))) continue;
      best = { code, position: word.slice(form.length).replace(/^[ _]+/, ''), length: form.length };
    }
  }
  return best;
}
