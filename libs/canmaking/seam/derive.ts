import { bodyHookButting, buttingAllowance } from './body-hook-butting.js';
import { chuckLipAllowance } from './countersink.js';
import { freeSpace } from './free-space.js';
import { junctureRating } from './juncture.js';
import { opticalButting } from './optical.js';
import { overlap } from './overlap.js';
import { percentOverlap } from './percent-overlap.js';
import { tightness } from './tightness.js';

export const formulaIds = [
  'seam.overlap', 'seam.percent-overlap', 'seam.body-hook-butting', 'seam.free-space', 'seam.tightness',
  'seam.chuck-lip', 'seam.optical-butting', 'seam.juncture-rating',
] as const;
export type FormulaId = (typeof formulaIds)[number];

/** Calculated from dimensions, read on a section, or rated by eye: numbers of different methods are different characteristics. */
export type SeamMethod = 'calculated' | 'optical' | 'rated';

/** Plate thickness in the unit of the readings: nominal from the product, or measured where an end lot says so. */
export type Plate = { endPlate: number; bodyPlate: number };

export type Formula = {
  id: FormulaId;
  /** Characteristic codes that must be read on the same point of the same can. */
  inputs: readonly string[];
  plate: readonly (keyof Plate)[];
  /** Whether the plant's allowance factor k changes the result. */
  usesK: boolean;
  method: SeamMethod;
  /** Stored with each derived reading; readings of different versions must not share limits. */
  version(k: number): string;
  /** @throws RangeError naming the input that the formula refuses. */
  compute(inputs: Readonly<Record<string, number>>, plate: Plate, k: number): number;
};

/** Every derived seam characteristic, used by the server for the record and by the entry screen for its preview. */
export const formulas: Record<FormulaId, Formula> = {
  'seam.overlap': {
    id: 'seam.overlap',
    inputs: ['cover-hook', 'body-hook', 'seam-length'],
    plate: ['endPlate'],
    usesK: true,
    method: 'calculated',
    version: (k) => `overlap/1 k=${oneDecimalAtLeast(k)} calculated`,
    compute: (inputs, { endPlate }, k) => overlap({ ...hooks(inputs), endPlate }, k),
  },
  'seam.percent-overlap': {
    id: 'seam.percent-overlap',
    inputs: ['cover-hook', 'body-hook', 'seam-length'],
    plate: ['endPlate', 'bodyPlate'],
    usesK: true,
    method: 'calculated',
    version: (k) => `percent-overlap/1 k=${oneDecimalAtLeast(k)} calculated`,
    compute: (inputs, plate, k) => percentOverlap({ ...hooks(inputs), ...plate }, k),
  },
  'seam.body-hook-butting': {
    id: 'seam.body-hook-butting',
    inputs: ['body-hook', 'seam-length'],
    plate: ['endPlate', 'bodyPlate'],
    usesK: false,
    method: 'calculated',
    version: () => `body-hook-butting/1 k=${oneDecimalAtLeast(buttingAllowance)} calculated`,
    compute: (inputs, plate) =>
      bodyHookButting({ bodyHook: read(inputs, 'body-hook'), seamLength: read(inputs, 'seam-length'), ...plate }),
  },
  'seam.free-space': {
    id: 'seam.free-space',
    inputs: ['seam-thickness'],
    plate: ['endPlate', 'bodyPlate'],
    usesK: false,
    method: 'calculated',
    version: () => 'free-space/1 calculated',
    compute: (inputs, plate) => freeSpace({ seamThickness: read(inputs, 'seam-thickness'), ...plate }),
  },
  'seam.tightness': {
    id: 'seam.tightness',
    inputs: ['cover-hook', 'wrinkle-length'],
    plate: [],
    usesK: false,
    method: 'rated',
    version: () => 'tightness/1 from wrinkle length',
    compute: (inputs) =>
      tightness({ coverHook: read(inputs, 'cover-hook'), wrinkleLength: read(inputs, 'wrinkle-length') }),
  },
  'seam.chuck-lip': {
    id: 'seam.chuck-lip',
    inputs: ['countersink', 'seam-length'],
    plate: [],
    usesK: false,
    method: 'calculated',
    version: () => 'chuck-lip/1 calculated',
    compute: (inputs) =>
      chuckLipAllowance({ countersink: read(inputs, 'countersink'), seamLength: read(inputs, 'seam-length') }),
  },
  'seam.optical-butting': {
    id: 'seam.optical-butting',
    inputs: ['butted-length', 'body-hook'],
    plate: [],
    usesK: false,
    method: 'optical',
    version: () => 'optical-butting/1 optical',
    compute: (inputs) =>
      opticalButting({ buttedLength: read(inputs, 'butted-length'), bodyHook: read(inputs, 'body-hook') }),
  },
  // Its inputs are readings of the juncture alone, so it never meets the points round the can.
  'seam.juncture-rating': {
    id: 'seam.juncture-rating',
    inputs: ['cover-hook-at-juncture', 'cover-hook-beside-juncture'],
    plate: [],
    usesK: false,
    method: 'calculated',
    version: () => 'juncture-rating/1 from cover hooks',
    compute: (inputs) => junctureRating({
      coverHookAtJuncture: read(inputs, 'cover-hook-at-juncture'), coverHookBeside: read(inputs, 'cover-hook-beside-juncture'),
    }),
  },
};

export type Derived = { value: number; version: string; method: SeamMethod } | { refused: string };

/**
 * One derived reading from the readings of one point. Null when an input is missing: nothing can be derived, which is
 * not an error. `refused` says which input the formula does not accept. No rounding: the gauge step is not the formula's.
 */
export function deriveReading(
  id: FormulaId, inputs: Readonly<Record<string, number | null | undefined>>, plate: Plate, k: number,
): Derived | null {
  const formula = formulas[id];
  const present: Record<string, number> = {};
  for (const code of formula.inputs) {
    const value = inputs[code];
    if (value === null || value === undefined) return null;
    present[code] = value;
  }
  try {
    return { value: formula.compute(present, plate, k), version: formula.version(k), method: formula.method };
  } catch (error) {
    if (error instanceof RangeError) return { refused: error.message };
    throw error;
  }
}

function hooks(inputs: Readonly<Record<string, number>>) {
  return {
    coverHook: read(inputs, 'cover-hook'), bodyHook: read(inputs, 'body-hook'), seamLength: read(inputs, 'seam-length'),
  };
}

function read(inputs: Readonly<Record<string, number>>, code: string): number {
  const value = inputs[code];
  if (value === undefined) throw new RangeError(`${code} is missing`);
  return value;
}

// "k=1" and "k=1.0" would split one chart in two; the string is an identity, not a display.
function oneDecimalAtLeast(k: number): string {
  return Number.isInteger(k) ? k.toFixed(1) : String(k);
}
