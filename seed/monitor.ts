import { createRandom } from './random.js';
import type { SimulatedCount } from './simulated.js';

/** The weld monitor of one body maker, invented: what it measures, what its messages mean, and how many bodies make a subgroup. */
export const seedMonitor = {
  machineCode: 'BM31', productCode: 'C99', counterMachineCode: 'PZ3', countedLike: 'TE3',
  characteristic: { code: 'weld-force', name: 'Welding force', unit: 'N', gaugeStep: 1, decimals: 0, kind: 'variable', stepKind: 'body-maker', plausibleLow: 100, plausibleHigh: 900, formula: null, basis: 'reading', chartKind: 'xbar-r' },
  feed: { name: 'Weld monitors, line 3', url: 'mqtt://monitors.salt-ridge.example:1883', clientId: 'seamledger-line-3', protocol: 5 as const },
  filter: 'line3/BM31/bodies', subgroup: { size: 5, every: 250 },
  hours: 2,
} as const;

export type MonitorMessage = { at: number; bodies: { at: number; body: number; force: number }[] };

/** Nominal force of the welding rolls, and how far a body lies from it at most (N): the monitor's own spread is even. */
const [NOMINAL, SPREAD] = [450, 12];

const MINUTE = 60_000;

/** What the monitor sent: a message at the end of each minute in which the machine counted, with every body in it, evenly spaced over the span. The force depends on the body alone. */
export function simulateMonitor(seed: number, counts: readonly SimulatedCount[], from: number): MonitorMessage[] {
  const random = createRandom(seed, 'monitor/BM31');
  let body = 39_999;
  return counts.filter(({ machineCode, at, good, rejected }) => machineCode === seedMonitor.machineCode && at >= from && good + rejected > 0).sort((a, b) => a.at - b.at).flatMap(({ at, minutes, good, rejected }) => {
    const bodies = Array.from({ length: good + rejected }, (_, index) => {
      body += 1;
      return { at: Math.round(at + ((index + 0.5) / (good + rejected)) * minutes * MINUTE), body, force: Math.round(NOMINAL + SPREAD * (2 * random.uniform() - 1)) };
    });
    return Array.from({ length: Math.ceil(minutes) }, (_, minute) => ({ at: at + (minute + 1) * MINUTE, bodies: bodies.filter((each) => Math.floor((each.at - at) / MINUTE) === minute) })).filter((message) => message.bodies.length > 0);
  });
}

/** What a running counter of the palletizer showed: as many cans as the tester let through, read every five minutes. */
export function simulateCounter(counts: readonly SimulatedCount[], from: number): { at: number; good: number }[] {
  let good = 418_350;
  const spans = counts.filter(({ machineCode, at }) => machineCode === seedMonitor.countedLike && at >= from).sort((a, b) => a.at - b.at);
  const [first] = spans;
  return first ? [{ at: first.at, good }, ...spans.map((span) => { good += span.good; return { at: span.at + span.minutes * 60_000, good }; })] : [];
}
