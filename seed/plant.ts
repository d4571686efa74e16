import { seedReactionPlans } from './reaction-plans.js';
import type { StepKind } from '#canmaking/line/steps';
import { seedCharacteristics } from './characteristics.js';
import { checkPlansFor } from './check-plans.js';
import type { SeedGauge, SeedLine, SeedMachine, SeedPlant, SeedStep, SeedUser } from './plant-types.js';
import { seedSpecifications } from './specifications.js';

const numbered = (count: number, letter: string, name: string) =>
  Array.from({ length: count }, (_, index) => ({ code: `${letter}${index + 1}`, name: `${name} ${index + 1}` }));
const machine = (code: string, name: string, units: SeedMachine['units'] = []): SeedMachine => ({ code, name, units });
const step = (kind: StepKind, ...machines: SeedMachine[]): SeedStep => ({ kind, machines });

const line1: SeedLine = {
  code: 'L1', name: 'Line 1, double-high', productCode: 'A65', cansPerMinute: 960,
  lanes: [{ code: 'A', name: 'Half A, leading weld end' }, { code: 'B', name: 'Half B, trailing weld end' }],
  steps: [
    step('slitter', machine('SL1', 'Slitter 1', numbered(6, 'L', 'Slitter lane'))),
    step('body-maker', machine('BM11', 'Body maker 11'), machine('BM12', 'Body maker 12')),
    step('stripe-applicator', machine('ST11', 'Stripe applicator 11'), machine('ST12', 'Stripe applicator 12')),
    step('curing-oven', machine('CO1', 'Curing oven 1')),
    step('parter', machine('PA1', 'Parter 1')),
    step('necker', machine('NK1', 'Necker 1')),
    step('flanger', machine('FL1', 'Flanger 1', numbered(8, 'S', 'Spindle'))),
    step('seamer', machine('SM1', 'Seamer 1', numbered(8, 'H', 'Head'))),
    step('tester', machine('TE1', 'Tester 1')),
    step('palletizer', machine('PZ1', 'Palletizer 1')),
  ],
  stretches: stretches(40, 130, 20, 200),
};

const line2: SeedLine = {
  code: 'L2', name: 'Line 2', productCode: 'B73', cansPerMinute: 420, lanes: [],
  steps: [
    step('slitter', machine('SL2', 'Slitter 2', numbered(4, 'L', 'Slitter lane'))),
    step('body-maker', machine('BM21', 'Body maker 21'), machine('BM22', 'Body maker 22')),
    step('stripe-applicator', machine('ST21', 'Stripe applicator 21'), machine('ST22', 'Stripe applicator 22')),
    step('curing-oven', machine('CO2', 'Curing oven 2')),
    step('flanger', machine('FL2', 'Flanger 2', numbered(6, 'S', 'Spindle'))),
    step('beader', machine('BD2', 'Beader 2')),
    step('seamer', machine('SM2', 'Seamer 2', numbered(6, 'H', 'Head'))),
    step('tester', machine('TE2', 'Tester 2')),
    step('palletizer', machine('PZ2', 'Palletizer 2')),
  ],
  stretches: stretches(60, 150, 30, 260),
};

const line3: SeedLine = {
  code: 'L3', name: 'Line 3', productCode: 'C99', cansPerMinute: 300, lanes: [],
  steps: [
    step('slitter', machine('SL3', 'Slitter 3', numbered(3, 'L', 'Slitter lane'))),
    step('body-maker', machine('BM31', 'Body maker 31')),
    step('stripe-applicator', machine('ST31', 'Stripe applicator 31')),
    step('curing-oven', machine('CO3', 'Curing oven 3')),
    step('flanger', machine('FL3', 'Flanger 3', numbered(4, 'S', 'Spindle'))),
    step('beader', machine('BD3', 'Beader 3')),
    step('seamer', machine('SM3', 'Seamer 3', numbered(4, 'H', 'Head'))),
    step('tester', machine('TE3', 'Tester 3')),
    step('palletizer', machine('PZ3', 'Palletizer 3')),
  ],
  stretches: stretches(60, 160, 30, 300),
};

// Seconds with empty and with full tables. Invented.
function stretches(ovenShort: number, ovenLong: number, tableShort: number, tableLong: number): SeedLine['stretches'] {
  return [
    { from: 'body-maker', to: 'flanger', shortestSeconds: ovenShort, longestSeconds: ovenLong },
    { from: 'flanger', to: 'seamer', shortestSeconds: tableShort, longestSeconds: tableLong },
    { from: 'seamer', to: 'tester', shortestSeconds: 15, longestSeconds: 40 },
    { from: 'tester', to: 'palletizer', shortestSeconds: 30, longestSeconds: 240 },
    // Blanks wait in stacks beside the body makers.
    { from: 'slitter', to: 'body-maker', shortestSeconds: 600, longestSeconds: 5400 },
  ];
}

const gaugeKinds: [code: string, name: string, unit: string, resolution: number, dueInDays: [number, number]][] = [
  ['G-LOUPE', 'Graticule loupe', 'mm', 0.01, [140, 96]],
  ['G-BALL-MIC', 'Ball micrometer', 'mm', 0.001, [61, 33]],
  ['G-AMP', 'Weld current display', 'A', 5, [154, 117]],
  ['G-FILM', 'Film thickness gauge', 'µm', 1, [122, 122]],
  ['G-FLANGE', 'Flange profile gauge', 'mm', 0.01, [48, -6]],
  ['G-SEAM-MIC', 'Seam micrometer', 'mm', 0.001, [19, 75]],
  ['G-PROJ', 'Seam projector', 'mm', 0.01, [88, 88]],
  ['G-CSINK', 'Countersink gauge', 'mm', 0.01, [27, 102]],
  ['G-WRINKLE', 'Wrinkle reference set', '%', 5, [210, 210]],
];
const gauges: SeedGauge[] = gaugeKinds.flatMap(([code, name, unit, resolution, due]) =>
  due.map((calibrationDueInDays, index) => ({ code: `${code}-${index + 1}`, name: `${name} ${index + 1}`, unit, resolution, calibrationDueInDays })));

export const seedUsers: SeedUser[] = [
  { login: 'quinta', name: 'Ilse Quintavale', role: 'engineer' },
  { login: 'marrow', name: 'Tobin Marrowby', role: 'engineer' },
  { login: 'sedge', name: 'Anneke Sedgelow', role: 'technician' },
  { login: 'okoro', name: 'Femi Okorandu', role: 'technician' },
  { login: 'pellow', name: 'Rui Pellowez', role: 'technician' },
  { login: 'brandt', name: 'Dorit Brandtstedder', role: 'operator' },
  { login: 'lund', name: 'Mikkel Lundqvarn', role: 'operator' },
  { login: 'asher', name: 'Noor Asherwand', role: 'operator' },
  { login: 'voss', name: 'Helene Vossberry', role: 'manager' },
  { login: 'audit', name: 'Calla Whitmarsh-Dene', role: 'auditor' },
  { login: 'admin', name: 'Jonas Keldermoor', role: 'administrator' },
];

const lines = [line1, line2, line3];

/** The invented plant. Names of plant, customers and people are made up; any likeness is chance. */
export const seedPlant: SeedPlant = {
  name: 'Salt Ridge Can Works',
  timeZone: 'Europe/Lisbon',
  lines,
  customers: [
    { name: 'Skerrylight Fish Cannery', makes: 'fish' },
    { name: 'Tumblepaw Pet Kitchen', makes: 'pet food' },
    { name: 'Morrowfield Vegetable Growers', makes: 'vegetables' },
  ],
  products: [
    { code: 'A65', name: '65 mm fish can, 101 high', customer: 'Skerrylight Fish Cannery', diameter: 65, height: 101,
      bodyPlate: 0.15, endPlate: 0.19, seamProfile: 'mini', overlapFactor: 1 },
    { code: 'B73', name: '73 mm pet-food can, 109 high', customer: 'Tumblepaw Pet Kitchen', diameter: 73, height: 109,
      bodyPlate: 0.16, endPlate: 0.2, seamProfile: 'normal', overlapFactor: 1 },
    { code: 'C99', name: '99 mm vegetable can, 118 high', customer: 'Morrowfield Vegetable Growers', diameter: 99, height: 118,
      bodyPlate: 0.18, endPlate: 0.22, seamProfile: 'normal', overlapFactor: 1 },
  ],
  characteristics: seedCharacteristics,
  specifications: seedSpecifications,
  gauges,
  checkPlans: checkPlansFor(lines), reactionPlans: seedReactionPlans,
  users: seedUsers,
};

/** The line on which a machine stands; throws for a machine that the plant does not have. */
export function lineOfMachine(machineCode: string): SeedLine {
  const found = lines.find((line) => line.steps.some(({ machines }) => machines.some(({ code }) => code === machineCode)));
  if (found === undefined) throw new RangeError(`unknown machine ${machineCode}`);
  return found;
}

export function findMachine(machineCode: string): SeedMachine {
  const found = lineOfMachine(machineCode).steps.flatMap(({ machines }) => machines).find(({ code }) => code === machineCode);
  if (found === undefined) throw new RangeError(`unknown machine ${machineCode}`);
  return found;
}
