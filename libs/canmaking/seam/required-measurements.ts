/** The two editions were read; the rules bind the packer of the food, and a maker's records are evidence for the packer. */
export const seamRules = {
  '21 CFR 113.60': '21 CFR 113.60(a)(1), 2015 edition (read in full)',
  '9 CFR 318.301': '9 CFR 318.301(b)(2), 2015 edition (read in full; its scope and projector list from memory; moved to 9 CFR 431 since, from memory)',
} as const;
export type SeamRule = keyof typeof seamRules;
/** Torn down and measured by micrometer, or sectioned and read on a scope or projector. */
export type TeardownMethod = 'micrometer' | 'optical';

export type RequiredMeasurement = {
  characteristic: string;
  /** Places round the can away from the side seam; 1 where the whole hook is judged at once. */
  points: number;
  need: 'required' | 'optional';
  /** A micrometer is asked for although the rest is read optically. */
  byMicrometer: boolean;
};

const asked = (need: RequiredMeasurement['need'], points: number, ...codes: string[]): RequiredMeasurement[] =>
  codes.map((characteristic) => ({ characteristic, points, need, byMicrometer: false }));
const thicknessByMicrometer = (points: number): RequiredMeasurement => ({ characteristic: 'seam-thickness', points, need: 'required', byMicrometer: true });

/**
 * Which measurements a rule asks of a teardown. Micrometer: three points about 120 degrees apart; scope or projector: two
 * places; the side seam excluded both times. Tightness is judged on the whole stripped cover hook.
 */
export function requiredMeasurements(rule: SeamRule, method: TeardownMethod): readonly RequiredMeasurement[] {
  if (rule === '21 CFR 113.60') {
    return method === 'micrometer'
      ? [...asked('required', 3, 'cover-hook', 'body-hook', 'seam-length', 'seam-thickness'), ...asked('required', 1, 'tightness'), ...asked('optional', 3, 'seam-overlap', 'countersink')]
      : [...asked('required', 2, 'body-hook', 'seam-overlap'), thicknessByMicrometer(2), ...asked('required', 1, 'tightness'), ...asked('optional', 2, 'seam-length', 'cover-hook', 'countersink')];
  }
  return method === 'micrometer'
    ? [...asked('required', 3, 'seam-length', 'seam-thickness', 'body-hook', 'cover-hook'), ...asked('required', 1, 'tightness')]
    : [...asked('required', 2, 'body-hook', 'seam-overlap'), thicknessByMicrometer(2), ...asked('required', 1, 'tightness')];
}

/** The meat rule keeps points half an inch from the juncture; the other only leaves the side seam out. */
export function keepsAway(rule: SeamRule): number {
  return rule === '9 CFR 318.301' ? 12.7 : 0;
}

/** The meat rule has the cover hook judged for droop at the juncture; 113.60 lists that droop among what is looked for. */
export const junctureIsAsked: Readonly<Record<SeamRule, 'required' | 'looked for'>> = { '21 CFR 113.60': 'looked for', '9 CFR 318.301': 'required' };

/** Whether a characteristic is measured on a torn-down or sectioned double seam. */
export function isOnSeam(characteristic: string): boolean {
  return ['cover-hook', 'body-hook', 'seam-length', 'seam-thickness', 'seam-overlap', 'countersink', 'tightness'].includes(characteristic);
}
