import { runRounds } from './rounds.js';

// `npm run faults [-- rounds [seed]]`: kill -9 of the API and of PostgreSQL in the middle of feeds, held against the same feeds without kills.
const [rounds = 20, seed = 20_261_126] = process.argv.slice(2).map(Number);
if (!Number.isInteger(rounds) || rounds < 1 || rounds > 500 || !Number.isInteger(seed)) {
  console.error('faults: needs a number of rounds from 1 to 500 and a whole number as seed');
  process.exit(2);
}
const report = await runRounds(rounds, seed, (line) => console.log(line));
const { lost, twice, different, undelivered, ...counts } = report;
console.log(Object.entries(counts).map(([name, value]) => `${name} ${value}`).join(', '));
console.log(`acknowledged and lost: ${lost.length}; stored or answered twice: ${twice.length}; different from the run without faults: ${different.length}; never delivered: ${undelivered.length}`);
for (const line of [...lost, ...twice, ...different, ...undelivered].slice(0, 40)) console.log(`  ${line}`);
process.exitCode = lost.length + twice.length + different.length + undelivered.length === 0 ? 0 : 1;
