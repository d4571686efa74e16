import { cpus } from 'node:os';
import { benchCapability } from './capability.bench.js';
import { benchChart } from './chart.bench.js';
import type { BenchRow } from './measure.js';
import { benchRecord } from './record.bench.js';
import { benchRules } from './rules.bench.js';
import { startBenchServer } from './server.js';
import { benchStatistics } from './statistics.bench.js';

// `npm run bench`: each figure is a ratio to a baseline measured in the same run on the same machine; one is in milliseconds, and says so.
const show = ({ name, ratio, aim, detail }: BenchRow) => console.log(`${ratio.toFixed(2).padStart(7)}  aim ${String(aim).padStart(2)}  ${ratio <= aim ? 'met    ' : 'NOT MET'}  ${name} (${detail})`);

console.log(`Node.js ${process.version}, ${cpus().length} x ${cpus()[0]?.model ?? 'unknown processor'}`);
for (const row of [...await benchStatistics(), ...await benchRules()]) show(row);
for (const row of await benchCapability()) show(row);
const server = await startBenchServer();
try {
  console.log((await server.sql.query<{ version: string }>("SELECT split_part(version(), ' on ', 1) AS version")).rows[0]?.version);
  show(await benchRecord(server));
  console.log('writing 10,000,000 readings for the chart benchmark …');
  show(await benchChart(server));
} finally {
  await server.close();
}
