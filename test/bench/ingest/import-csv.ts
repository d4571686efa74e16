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
const YEARS = [1940, 1955, 1970, 1985, LAST] as const;
const ROWS_AT_ONCE = 1600;
const layout: Layout = { encoding: 'utf-8', separator: ';', decimal: '.', dateOrder: 'year-month-day', timeZone: 'UTC' };

const columns = Array.from({ length: CODES * POSITIONS }, (_, place) => ({ column: `c${Math.floor(place / POSITIONS)} p${place % POSITIONS}`, field: 'reading' as const, characteristic: `im-${Math.floor(place / POSITIONS)}`, position: `p${place % POSITIONS}` }));

/** Readings as one CSV file: a row a can, a column a characteristic and position. */
function writeFile(checks: number, year: number): Buffer {
  const rows = [`Time;Machine;Product;Can;${columns.map(({ column }) => column).join(';')}`];
  for (let check = 0; check < checks; check += 1) {
    const at = new Date(Date.UTC(year, 0, 1) + check * 1_800_000).toISOString();
    for (let can = 1; can <= CANS; can += 1) {
      rows.push(`${at};IM1;IMP;${can};${columns.map((_, place) => (0.4 + ((check * 7919 + can * 104_729 + place * 17) % 61) / 1000).toFixed(3)).join(';')}`);
    }
  }
  return Buffer.from(`${rows.join('\n')}\n`);
}

/** The import of a CSV file of so many readings, judged and all, to only parsing the same file by the same parser. */
export async function benchImport(sql: pg.Client, url: string, readings: number): Promise<BenchRow[]> {
  const id = async (statement: string, values: unknown[]) => (await sql.query<{ id: number }>(`${statement} RETURNING id`, values)).rows[0]?.id as number;
  const plantId = await id("INSERT INTO plant (name, time_zone) VALUES ('Import plant', 'UTC')", []);
  const userId = await id("INSERT INTO \"user\" (plant_id, login, name, role, password_hash) VALUES ($1, 'import', 'Import', 'engineer', 'none')", [plantId]);
  const lineId = await id("INSERT INTO line (plant_id, code, name, position) VALUES ($1, 'IM', 'Import', 1)", [plantId]);
  const stepId = await id("INSERT INTO step (plant_id, line_id, kind, position) VALUES ($1, $2, 'body-maker', 1)", [plantId, lineId]);
  await id("INSERT INTO machine (plant_id, step_id, code, name) VALUES ($1, $2, 'IM1', 'Import 1')", [plantId, stepId]);
  await id("INSERT INTO product (plant_id, code, name, customer, diameter, height, body_plate, end_plate, seam_profile) VALUES ($1, 'IMP', 'Import', 'none', 65, 100, 0.15, 0.19, 'mini')", [plantId]);
  for (let code = 0; code < CODES; code += 1) await id("INSERT INTO characteristic (plant_id, code, name, unit, step_kind, gauge_step, decimals) VALUES ($1, $2, $2, 'mm', 'body-maker', 0.001, 3)", [plantId, `im-${code}`]);
  const checks = Math.ceil(readings / (CANS * POSITIONS * CODES));
  const content = writeFile(checks, LAST);
  const mapping: Mapping = {
    columns: [{ column: 'Time', field: 'takenAt' }, { column: 'Machine', field: 'machine' }, { column: 'Product', field: 'product' }, { column: 'Can', field: 'can' }, ...columns],
    conversions: [], asMeasured: false,
  };
  const [parsing, parsingCpu]: [number[], number[]] = [[], []];
  const parse = async () => {
    const [began, used] = [performance.now(), process.cpuUsage()];
    let rows = 0;
    for await (const { cells } of readTable(content, layout)) rows += cells.length > 0 ? 1 : 0;
    if (rows !== checks * CANS + 1) throw new Error(`the parser saw ${rows} rows`);
    parsing.push(performance.now() - began);
    parsingCpu.push(cpuMs(used));
  };
  const work = new Work(url, 5);
  const threads = new SortingThreads();
  const store = async (name: string, file: Buffer, expected: number) => {
    const importId = await id("INSERT INTO import (plant_id, file_name, sha256, content, mapping, state, started_by) VALUES ($1, $2, $2, $3, $4, 'running', $5)", [plantId, name, file, JSON.stringify({ layout, mapping }), userId]);
    const [began, used] = [performance.now(), process.cpuUsage()];
    await runImport({ work, threads, actor: { plantId, userId, name: 'Import' }, id: importId, now: () => new Date(), nudge() {}, broken: new Map(), closing: new AbortController().signal });
    const [cost, cpu] = [performance.now() - began, cpuMs(used)];
    const { rows: [row] } = await sql.query<{ state: string; stored: number; refused: number; problem: string | null }>('SELECT state, stored, refused, problem FROM import WHERE plant_id = $1 AND id = $2', [plantId, importId]);
    if (row?.state !== 'done' || row.stored !== expected) throw new Error(`the import is ${row?.state} with ${row?.stored} of ${expected} readings stored, ${row?.refused} rows refused: ${row?.problem ?? ''}`);
    return { cost, cpu };
  };
  // Both as in a server that has run for a while: after one of each that does not count, each five times in turn, and the median counts.
  const expected = checks * CANS * CODES * POSITIONS;
  await parse();
  await store('warm-up.csv', writeFile(checks, WARM_UP), expected);
  parsing.length = parsingCpu.length = 0;
  const [costs, cpus]: [number[], number[]] = [[], []];
  for (const year of YEARS) {
    await parse();
    const stored = await store(`bench-${year}.csv`, writeFile(checks, year), expected);
    costs.push(stored.cost);
    cpus.push(stored.cpu);
  }
  const [cost, cpu] = [median(costs), median(cpus)];
  await threads.close();
  await work.close();
  const base = median(parsing);
  const bare = await bareInsert(sql, plantId, LAST);
  return [{ name: `CSV import of ${expected} readings in ${(content.length / 1e6).toFixed(0)} MB, to only parsing it`, ratio: cost / base, aim: 3, detail: `${(cost / base).toFixed(2)} times (aim 3): ${(cost / 1000).toFixed(1)} s to ${(base / 1000).toFixed(2)} s, single ones ${[...costs].map((one, turn) => (one / (parsing[turn] ?? NaN)).toFixed(2)).join(', ')}; of processor time of Node.js ${(cpu / median(parsingCpu)).toFixed(2)} times; only inserting the same rows by arrays, without judging, foreign keys and parsing, ${(bare / base).toFixed(2)} times` }];
}

function cpuMs(since: NodeJS.CpuUsage): number {
  const { user, system } = process.cpuUsage(since);
  return (user + system) / 1000;
}

/** Milliseconds for inserting the subgroups of the last import again, in the order of the import, into a bare table with the same indexes: what storing alone costs. */
async function bareInsert(sql: pg.Client, plantId: number, year: number): Promise<number> {
  await sql.query('CREATE TABLE bare_subgroup (LIKE subgroup INCLUDING ALL)');
  const columns = { stream_id: 'int', taken_at: 'timestamptz', sequence: 'int', check_id: 'int', cans: 'text', readings: 'text', n: 'int', mean: 'float8', range: 'float8', sd: 'float8', low: 'float8', high: 'float8', limits_id: 'int' };
  const names = Object.keys(columns);
  const { rows: batches } = await sql.query<Record<string, string>>(`SELECT ${Object.entries(columns).map(([name, type]) => `array_agg(${name}::${type} ORDER BY place)::text AS ${name}`).join(', ')}
    FROM (SELECT *, row_number() OVER (ORDER BY check_id, stream_id) AS place FROM subgroup WHERE plant_id = $1 AND taken_at >= make_date($2, 1, 1) AND taken_at < make_date($2 + 1, 1, 1)) s GROUP BY (place - 1) / ${ROWS_AT_ONCE} ORDER BY min(place)`, [plantId, year]);
  const began = performance.now();
  for (const batch of batches) {
    await sql.query({
      name: 'bare', values: [plantId, ...names.map((name) => batch[name])],
      text: `INSERT INTO bare_subgroup (plant_id, ${names.join(', ')}) SELECT $1, ${names.map((name) => (name === 'cans' ? 'cans::smallint[]' : name === 'readings' ? 'readings::float8[]' : name)).join(', ')} FROM unnest(${names.map((name, place) => `$${place + 2}::${columns[name as keyof typeof columns]}[]`).join(', ')}) AS s(${names.join(', ')})`,
    });
  }
  return performance.now() - began;
}
