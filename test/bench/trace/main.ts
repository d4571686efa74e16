import { cpus } from 'node:os';
import { parseArgs } from 'node:util';
import { traceOrigins } from '#tracing/trace-origins';
import { simulatePlant } from '../../trace-plants/simulate-plant.js';
import { aims, breakdown, isMet, misses } from './report.js';
import { type Scored, score } from './score.js';

// `npm run bench:trace`: complaints of invented plants whose fault is known, traced; how often the origin is found.
// `npm run bench:trace -- --plants 400 --from 1 --misses` for other plants, and for a line on each that is missed.
const { values } = parseArgs({ options: { plants: { type: 'string', default: '240' }, from: { type: 'string', default: '1' }, misses: { type: 'boolean', default: false } } });
const whole = (name: string, text: string): number => {
  const value = Number(text);
  if (!Number.isSafeInteger(value) || value < 1 || value > 100_000) throw new RangeError(`--${name}: needs a whole number from 1 to 100000, ${text} given`);
  return value;
};

const [plants, from] = [whole('plants', values.plants), whole('from', values.from)];
console.log(`Node.js ${process.version}, ${cpus().length} x ${cpus()[0]?.model ?? 'unknown processor'}`);
const scored: Scored[] = [];
let seed = from;
for (; scored.length < plants; seed += 1) {
  const plant = simulatePlant(seed);
  if (plant) scored.push(score(seed, plant, traceOrigins));
}
console.log(`plants ${from} to ${seed - 1} of test/trace-plants, of which ${scored.length} had a complaint`);
for (const aim of aims(scored)) console.log(`${aim.value.toFixed(3).padStart(7)}  aim ${aim.atLeast ? 'at least' : 'at most'} ${aim.aim.toFixed(2)}  ${isMet(aim) ? 'met    ' : 'NOT MET'}  ${aim.name} (${aim.detail})`);
for (const line of breakdown(scored)) console.log(line);
if (values.misses) for (const line of ['', ...misses(scored)]) console.log(line);
