import type pg from 'pg';
import { runImport } from '../../../apps/api/src/ingest/run-import.js';
import { SortingThreads } from '../../../apps/api/src/ingest/sorting-threads.js';
import { readTable } from '../../../apps/api/src/ingest/read-table.js';
import { Work } from '../../../apps/api/src/platform/work.js';
import type { Layout, Mapping } from '#contract/ingest';
import { median, type BenchRow } from '../measure.js';

const [CANS, POSITIONS, CODES] = [10, 5, 4];
/** When the checks of each import were made: a million readings are some hundred days. */
const [WARM_UP, LAST] = [2010, 2000] as const;
const TURNS = 11;
const YEARS = Array.from({ length: TURNS }, (_, turn) => LAST - 7 * (TURNS - 1 - turn));
const ROWS_AT_ONCE = 1600;
const layout: Layout = { encoding: 'utf-8', separator: ';', decimal: '.', dateOrder: 'year-month-day', timeZone: 'UTC' };

type Shape = { name: string; machine: string; turns: number; header: string; columns: Mapping['columns']; rowsOf: (start: string, value: (place: number) => string) => string[] };

const places = Array.from({ length: CODES * POSITIONS }, (_, place) => ({ characteristic: `im-${Math.floor(place / POSITIONS)}`, position: `p${place % POSITIONS}` }));
const whose: Mapping['columns'] = [{ column: 'Time', field: 'takenAt' }, { column: 'Machine', field: 'machine' }, { column: 'Product', field: 'product' }, { column: 'Can', field: 'can' }];
/** The two ways in which files bring readings: parsing costs a row most, storing a reading, so the first is the harder one. */
const SHAPES: readonly Shape[] = [
  {
    name: 'a row a can', machine: 'IM1', turns: TURNS, header: ['Time', 'Machine', 'Product', 'Can', ...places.map(({ characteristic, position }) => `${characteristic} ${position}`)].join(';'),
    columns: [...whose, ...places.map(({ characteristic, position }) => ({ column: `${characteristic} ${position}`, field: 'reading' as const, characteristic, position }))],
    rowsOf: (start, value) => [`${start};${places.map((_, place) => value(place)).join(';')}`],
  },
  {
    name: 'a row a reading', machine: 'IM2', turns: 3, header: 'Time;Machine;Product;Can;Characteristic;Position;Value',
    columns: [...whose, { column: 'Characteristic', field: 'characteristic' }, { column: 'Position', field: 'position' }, { column: 'Value', field: 'value' }],
    rowsOf: (start, value) => places.map(({ characteristic, position }, place) => `${start};${characteristic};${position};${value(place)}`),
  },
];

/** Readings as one CSV file, and how many rows it has. */
function writeFile({ header, machine, rowsOf }: Shape, checks: number, year: number): { content: Buffer; rows: number } {
  const rows = [header];
  for (let check = 0; check < checks; check += 1) {
    const at = new Date(Date.UTC(year, 0, 1) + check * 1_800_000).toISOString();
    for (let can = 1; can <= CANS; can += 1) rows.push(...rowsOf(`${at};${machine};IMP;${can}`, (place) => (0.4 + ((check * 7919 + can * 104_729 + place * 17) % 61) / 1000).toFixed(3)));
  }
  return { content: Buffer.from(`${rows.join('\n')}\n`), rows: rows.length };
}

/** The imports of CSV files of so many readings, judged and all, to only parsing the same file by the same parser. */
export async function benchImport(sql: pg.Client, url: string, readings: number): Promise<BenchRow[]> {
  const id = async (statement: string, values: unknown[]) => (await sql.query<{ id: number }>(`${statement} RETURNING id`, values)).rows[0]?.id as number;
  const plantId = await id("INSERT INTO plant (name, time_zone) VALUES ('Import plant', 'UTC')", []);
  const userId = await id("INSERT INTO \"user\" (plant_id, login, name, role, password_hash) VALUES ($1, 'import', 'Import', 'engineer', 'none')", [plantId]);
  const lineId = await id("INSERT INTO line (plant_id, code, name, position) VALUES ($1, 'IM', 'Import', 1)", [plantId]);
  const stepId = await id("INSERT INTO step (plant_id, line_id, kind, position) VALUES ($1, $2, 'body-maker', 1)", [plantId, lineId]);
  for (const { machine } of SHAPES) await id('INSERT INTO machine (plant_id, step_id, code, name) VALUES ($1, $2, $3, $3)', [plantId, stepId, machine]);
  await id("INSERT INTO product (plant_id, code, name, customer, diameter, height, body_plate, end_plate, seam_profile) VALUES ($1, 'IMP', 'Import', 'none', 65, 100, 0.15, 0.19, 'mini')", [plantId]);
  for (let code = 0; code < CODES; code += 1) await id("INSERT INTO characteristic (plant_id, code, name, unit, step_kind, gauge_step, decimals) VALUES ($1, $2, $2, 'mm', 'body-maker', 0.001, 3)", [plantId, `im-${code}`]);
  const checks = Math.ceil(readings / (CANS * POSITIONS * CODES));
  const expected = checks * CANS * CODES * POSITIONS;
  const work = new Work(url, 5);
  const threads = new SortingThreads();
  const parse = async (file: { content: Buffer; rows: number }): Promise<Cost> => {
    const [began, used] = [performance.now(), process.cpuUsage()];
    let rows = 0;
    for await (const { cells } of readTable(file.content, layout)) rows += cells.length > 0 ? 1 : 0;
    if (rows !== file.rows) throw new Error(`the parser saw ${rows} rows of ${file.rows}`);
    return { ms: performance.now() - began, cpu: cpuMs(used) };
  };
  const store = async (name: string, content: Buffer, columns: Mapping['columns']): Promise<Cost> => {
    const mapping: Mapping = { columns, conversions: [], asMeasured: false };
    const importId = await id("INSERT INTO import (plant_id, file_name, sha256, content, mapping, state, started_by) VALUES ($1, $2, $2, $3, $4, 'running', $5)", [plantId, name, content, JSON.stringify({ layout, mapping }), userId]);
    const [began, used] = [performance.now(), process.cpuUsage()];
    await runImport({ work, threads, actor: { plantId, userId, name: 'Import' }, id: importId, now: () => new Date(), nudge() {}, broken: new Map(), closing: new AbortController().signal });
    const cost = { ms: performance.now() - began, cpu: cpuMs(used) };
    const { rows: [row] } = await sql.query<{ state: string; stored: number; refused: number; problem: string | null }>('SELECT state, stored, refused, problem FROM import WHERE plant_id = $1 AND id = $2', [plantId, importId]);
    if (row?.state !== 'done' || row.stored !== expected) throw new Error(`the import is ${row?.state} with ${row?.stored} of ${expected} readings stored, ${row?.refused} rows refused: ${row?.problem ?? ''}`);
    return cost;
  };
  const answers: BenchRow[] = [];
  for (const shape of SHAPES) {
    // Both as in a server that has run for a while: after one of each that does not count.
    const warmUp = writeFile(shape, checks, WARM_UP);
    await parse(warmUp);
    await store(`${shape.name} ${WARM_UP}.csv`, warmUp.content, shape.columns);
    // Parsing is short, and a machine that is shared is fast and slow by turns: an import is held against the parsing right before and right after it.
    const turns: { parsing: Cost; storing: Cost; bytes: number }[] = [];
    for (const year of YEARS.slice(-shape.turns)) {
      const file = writeFile(shape, checks, year);
      const before = await parse(file);
      const storing = await store(`${shape.name} ${year}.csv`, file.content, shape.columns);
      const after = await parse(file);
      turns.push({ parsing: { ms: (before.ms + after.ms) / 2, cpu: (before.cpu + after.cpu) / 2 }, storing, bytes: file.content.length });
    }
    const ratios = turns.map(({ parsing, storing }) => storing.ms / parsing.ms);
    const seconds = (pick: (turn: (typeof turns)[number]) => Cost) => (median(turns.map((turn) => pick(turn).ms)) / 1000).toFixed(2);
    answers.push({
      name: `CSV import of ${expected} readings in ${((turns[0]?.bytes ?? 0) / 1e6).toFixed(0)} MB, ${shape.name}, to only parsing it`, ratio: median(ratios), aim: 3,
      detail: `${median(ratios).toFixed(2)} times (aim 3; single ones ${ratios.map((ratio) => ratio.toFixed(2)).join(', ')}): ${seconds((turn) => turn.storing)} s to ${seconds((turn) => turn.parsing)} s; of processor time of Node.js ${median(turns.map(({ parsing, storing }) => storing.cpu / parsing.cpu)).toFixed(2)} times`,
    });
  }
  await threads.close();
  await work.close();
  const [first] = answers;
  if (first) first.detail += `; only inserting its rows by arrays, without judging, foreign keys and parsing, ${(await bareInsert(sql, plantId, LAST) / 1000).toFixed(2)} s`;
  return answers;
}

type Cost = { ms: number; cpu: number };

function cpuMs(since: NodeJS.CpuUsage): number {
  const { user, system } = process.cpuUsage(since);
  return (user + system) / 1000;
}

/** Milliseconds for inserting the subgroups of the last import of the first shape again, in the order of the import, into a bare table with the same indexes: what storing alone costs. */
async function bareInsert(sql: pg.Client, plantId: number, year: number): Promise<number> {
  await sql.query('CREATE TABLE bare_subgroup (LIKE subgroup INCLUDING ALL)');
  const columns = { stream_id: 'int', taken_at: 'timestamptz', sequence: 'int', check_id: 'int', cans: 'text', readings: 'text', n: 'int', mean: 'float8', range: 'float8', sd: 'float8', low: 'float8', high: 'float8', limits_id: 'int' };
  const names = Object.keys(columns);
  const { rows: batches } = await sql.query<Record<string, string>>(`SELECT ${Object.entries(columns).map(([name, type]) => `array_agg(${name}::${type} ORDER BY place)::text AS ${name}`).join(', ')}
    FROM (SELECT *, row_number() OVER (ORDER BY check_id, stream_id) AS place FROM subgroup WHERE plant_id = $1 AND stream_id IN (SELECT s.id FROM stream s JOIN machine m ON m.plant_id = s.plant_id AND m.id = s.machine_id WHERE s.plant_id = $1 AND m.code = $3) AND taken_at >= make_date($2, 1, 1) AND taken_at < make_date($2 + 1, 1, 1)) s GROUP BY (place - 1) / ${ROWS_AT_ONCE} ORDER BY min(place)`, [plantId, year, SHAPES[0]?.machine]);
  const began = performance.now();
  for (const batch of batches) {
    await sql.query({
      name: 'bare', values: [plantId, ...names.map((name) => batch[name])],
      text: `INSERT INTO bare_subgroup (plant_id, ${names.join(', ')}) SELECT $1, ${names.map((name) => (name === 'cans' ? 'cans::smallint[]' : name === 'readings' ? 'readings::float8[]' : name)).join(', ')} FROM unnest(${names.map((name, place) => `$${place + 2}::${columns[name as keyof typeof columns]}[]`).join(', ')}) AS s(${names.join(', ')})`,
    });
  }
  return performance.now() - began;
}
