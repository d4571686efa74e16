import type { Mapping } from '#contract/ingest';
import { type Names, nameKey } from './names.js';

const WORDS: [Mapping['columns'][number]['field'], RegExp][] = [
  ['takenAt', /^(date.?time|timestamp|taken.?at|time|zeit|datum.?zeit|zeitpunkt|picked|sampled)$/], ['date', /^(date|datum|day|tag)$/], ['time', /^(uhrzeit|clock|hour)$/],
  ['machine', /^(machine|maschine|mc|station)$/], ['product', /^(product|produkt|can.?type|article|artikel)$/], ['unit', /^(head|kopf|spindle|spindel|seaming.?head|slitter.?lane)$/],
  ['lane', /^(lane|half|halbe|hälfte|ab)$/], ['can', /^(can|dose|can.?no|sample|probe|body)$/], ['position', /^(position|point|punkt|pos|place|angle)$/], ['characteristic', /^(characteristic|merkmal|measure|measurement|feature)$/],
  ['value', /^(value|wert|reading|result|messwert)$/], ['unitOfMeasure', /^(unit|einheit|uom)$/], ['gauge', /^(gauge|messmittel|instrument)$/], ['inspector', /^(inspector|prüfer|operator|technician|by|who)$/], ['note', /^(note|remark|bemerkung|comment|kommentar)$/],
];

/**
 * What the columns seem to hold, by their names: a suggestion. Columns that are left over and hold numbers are readings
 * of the wide form, when their name begins with a characteristic's (or ends one: "overlap front" of "Weld overlap").
 */
export function suggestMapping(header: readonly string[], sample: readonly (readonly string[])[], names: Names, decimal: '.' | ','): Mapping {
  const used = new Set<string>();
  const columns = header.map((column): Mapping['columns'][number] => {
    const word = nameKey(column);
    const known = WORDS.find(([field, pattern]) => !used.has(field) && pattern.test(word));
    if (known) { used.add(known[0]); return { column, field: known[0] }; }
    return { column, field: 'ignore' };
  });
  if (used.has('takenAt')) for (const entry of columns) if (entry.field === 'date' || entry.field === 'time') entry.field = 'ignore';
  if (used.has('value') && used.has('characteristic')) return { columns, asMeasured: false };
  const machineColumn = columns.findIndex((entry) => entry.field === 'machine');
  const machine = names.machines.get(nameKey(sample[0]?.[machineColumn] ?? ''));
  const local = [...new Set(names.characteristics.values())].filter((entry) => !entry.derived && (!machine || entry.stepKind === machine.stepKind));
  header.forEach((column, index) => {
    const numeric = sample.some((row) => new RegExp(decimal === ',' ? '^-?\\d+(,\\d+)?$' : '^-?\\d+(\\.\\d+)?$').test((row[index] ?? '').trim()));
    const entry = columns[index];
    if (entry?.field !== 'ignore' || !numeric) return;
    const found = splitName(nameKey(column), local);
    if (found) { entry.field = 'reading'; entry.characteristic = found.code; entry.position = found.position || 'any'; return; }
    // One characteristic at this step: the column name is the position.
    if (local.length === 1 && local[0]) { entry.field = 'reading'; entry.characteristic = local[0].code; entry.position = column.trim(); }
  });
  return { columns, asMeasured: false };
}

function splitName(word: string, characteristics: readonly { code: string; name: string }[]): { code: string; position: string } | null {
  for (const { code, name } of characteristics) {
    const forms = [nameKey(name), code.replaceAll('-', ' '), nameKey(name).split(' ').slice(-1)[0] ?? ''];
    const form = forms.find((text) => text !== '' && (word === text || word.startsWith(`${text} `) || word.startsWith(`${text}_`)));
    if (form) return { code, position: word.slice(form.length).replace(/^[ _]+/, '').replace(/\s*[[(].*$/, '') };
  }
  return null;
}
