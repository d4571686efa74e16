import { createRandom } from './random.js';

/** One gauge study of the plant's past, invented: three technicians, ten bodies along the weld, twice each. */
export const seedGaugeStudy = {
  title: 'Ball micrometer 1 at the weld', note: 'Ten bodies of a shift, marked at the place that was measured; each technician measured them in the order of the sheet.',
  characteristicCode: 'weld-thickness', gaugeCode: 'G-BALL-MIC-1', productCode: 'A65', plannedBy: 'sedge', signedBy: 'voss', daysAgo: 30, repeats: 2,
  people: ['Anneke Sedgelow', 'Femi Okorandu', 'Rui Pellowez'], parts: Array.from({ length: 10 }, (_none, index) => `Body ${index + 1}`),
};

/** Thickness of the bodies around the nominal one and how far readings of one body lie apart, in mm. */
const [NOMINAL, BODIES, PEOPLE, AGAIN, STEP] = [0.21, 0.008, [0, 0.0003, -0.0002], 0.0005, 0.001];

/** What a person (from 0) reads at a part (from 0) for the given time (from 0), mm. */
export function gaugeStudyReading(seed: number, { person, part, repeat }: { person: number; part: number; repeat: number }): number {
  const thickness = NOMINAL + BODIES * createRandom(seed, `gauge study/${part}`).normal();
  const read = thickness + (PEOPLE[person] ?? 0) + AGAIN * createRandom(seed, `gauge study/${part}/${person}/${repeat}`).normal();
  return Math.round(Math.round(read / STEP) * STEP * 1000) / 1000;
}
