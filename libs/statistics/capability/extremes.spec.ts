import fc from 'fast-check';
import { expect, it } from 'vitest';
import { andersonDarling } from './anderson-darling.js';
import { capability } from './capability.js';
import { capabilityByUnit } from './capability-by-unit.js';
import { chooseDistribution } from './fits/choose.js';
import { FAMILIES } from './fits/family.js';
import { fractionNonconforming } from './fraction-nonconforming.js';
import { histogram } from './histogram.js';
import { probabilityPlot } from './probability-plot.js';
import { shape } from './shape.js';

const wild = fc.oneof(fc.constantFrom(0, 5e-324, 1e-308, 1e-150, 1, 1 + Number.EPSILON, 2, -1, 1e6, 1e6 + 1e-9, 1e16, 1e150, 1e308, -1e308, Number.MAX_VALUE), fc.double({ noNaN: true, noDefaultInfinity: true }), fc.double({ min: 0, max: 1, noNaN: true }));
const limit = fc.option(wild);

function everyNumber(answer: unknown, check: (value: number) => void): void {
  if (typeof answer === 'number') check(answer);
  else if (typeof answer === 'object' && answer !== null) for (const part of Object.values(answer)) everyNumber(part, check);
}

it('whatever the size of the numbers: finite figures, null, or a RangeError in words', () => {
  let answered = 0;
  fc.assert(fc.property(fc.array(wild, { minLength: 1, maxLength: 14 }), limit, limit, limit, fc.constantFrom(...FAMILIES), fc.constantFrom('xbar-r' as const, 'xbar-s' as const, 'i-mr' as const), (values, lsl, usl, target, family, kind) => {
    Object.freeze(values);
    const members = values.map((value, i) => (kind === 'i-mr' ? [value] : [value, values[i + 1] ?? null]));
    const attempts: readonly (() => unknown)[] = [
      () => capability({ members, kind, lsl, usl, target }), () => capabilityByUnit([{ unit: 'a', members }, { unit: 'b', members }], kind, { lsl, usl, target }),
      () => andersonDarling(values), () => shape(values), () => chooseDistribution({ values, lsl, usl }), () => probabilityPlot(values, family),
      () => histogram(values), () => histogram(values, Math.abs(target ?? 1)), () => fractionNonconforming(values, lsl, usl),
    ];
    for (const attempt of attempts) {
      let answer: unknown = null;
      try { answer = attempt(); answered += 1; } catch (error) {
        expect(error).toBeInstanceOf(RangeError);
        // The words of this library open with the name of the function; those of the engine do not.
        expect(String(error)).toMatch(/^RangeError: [a-zA-Z]+( fit)?: /);
      }
      everyNumber(answer, (value) => { expect(Number.isFinite(value)).toBe(true); });
    }
  }), { numRuns: 400 });
  expect(answered).toBeGreaterThan(400);
});
