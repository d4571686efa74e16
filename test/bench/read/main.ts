import { statfsSync } from 'node:fs';
import { cpus, tmpdir } from 'node:os';
import { parseArgs } from 'node:util';
import { startBenchServer } from '../server.js';
import { benchBoard } from './board.bench.js';
import { drawYear } from './draw-year.js';
import { fill } from './fill.js';
import { benchYear } from './year.bench.js';

// `npm run bench:read [-- --scale 0.01]`: 100,000,000 every-body readings and 10,512,000 bench readings times the scale, then what people look at.
const { values: { scale: given } } = parseArgs({ options: { scale: { type: 'string', default: '1' } } });
const scale = Number(given);
if (!(scale > 0 && scale <= 1)) {
  console.error(`bench:read: --scale needs a number above 0 and at most 1, ${given} given`);
  process.exit(2);
}
// Chunks, rows and indexes with their log: measured, with room.
const needed = 8e9 * scale + 1e9;
const { bavail, bsize } = statfsSync(tmpdir());
if (bavail * bsize < needed) {
  console.error(`bench:read: needs ${(needed / 1e9).toFixed(1)} GB under ${tmpdir()}, ${(bavail * bsize / 1e9).toFixed(1)} GB are free: free some, or give a smaller --scale`);
  process.exit(2);
}
console.log(`Node.js ${process.version}, ${cpus().length} x ${cpus()[0]?.model ?? 'unknown processor'}`);
const server = await startBenchServer();
try {
  const began = performance.now();
  const filled = await fill(server, scale, (line) => console.log(line));
  console.log(`${filled.bodies.toLocaleString('en')} every-body readings in chunks and ${filled.benchReadings.toLocaleString('en')} bench readings written in ${((performance.now() - began) / 1000).toFixed(0)} s`);
  for (const { name, ratio, aim, detail } of [await benchYear(server, filled), ...(await benchBoard(server, filled))]) console.log(`${ratio.toFixed(2).padStart(7)}  aim ${aim}  ${ratio <= aim ? 'met    ' : 'NOT MET'}  ${name} (${detail})`);
  console.log(await drawYear(server, filled));
} finally {
  await server.close();
}
