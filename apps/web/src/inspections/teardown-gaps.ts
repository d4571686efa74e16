import { isOnSeam, type SeamRule, seamRules, type TeardownMethod } from '#canmaking/seam/required-measurements';
import { type Lack, teardownLacks } from '#canmaking/seam/teardown-lacks';
import type { CheckView } from '#contract/inspections';

/** Cans by unit, half and number, as far as each is known. */
export type Gap = { lack: Lack; cans: string[] };
export type Gaps = { method: TeardownMethod; rules: { rule: SeamRule; source: string; gaps: Gap[] }[] };

const RULES: readonly SeamRule[] = ['21 CFR 113.60', '9 CFR 318.301'];

/** Degrees from the weld as a position names them, such as "120°"; null where it names no angle. */
export function degreesOf(position: string): number | null {
  const found = /^\s*(\d{1,3}(?:[.,]\d+)?)\s*(?:°|deg)/i.exec(position);
  const degrees = found ? Number(found[1]?.replace(',', '.')) : Number.NaN;
  return degrees <= 360 ? degrees : null;
}

/**
 * What the cans of a check lack of what each rule asks, the same lack of several cans once with their numbers. Null where
 * nothing was measured on a seam. Overlap that was read, and not computed, makes it an optical reading.
 */
export function teardownGaps(check: Pick<CheckView, 'cans' | 'positions' | 'characteristics'>, insideDiameter: number | null): Gaps | null {
  const measured = check.characteristics.filter(({ derived }) => !derived);
  if (!measured.some(({ code }) => isOnSeam(code))) return null;
  const method = measured.some(({ code }) => code === 'seam-overlap') ? 'optical' : 'micrometer';
  const width = check.positions.length;
  const degrees = check.positions.map(degreesOf);
  const rules = RULES.map((rule) => {
    const found = new Map<string, Gap>();
    check.cans.forEach(({ number, unit, lane }, can) => {
      const name = [unit, lane, number].filter((part) => part !== null).join(' ');
      const points = Object.fromEntries(measured.map(({ code, readings }) => [code, check.positions.map((_, place) => ({ degrees: degrees[place] ?? null, value: readings[can * width + place] ?? null }))]));
      const rating = points['juncture-rating']?.find(({ value }) => value !== null)?.value ?? null;
      const juncture = rating === null ? null : { examined: true as const, rating, droop: false };
      for (const lack of teardownLacks({ method, sideSeam: true, insideDiameter, points, juncture }, rule)) {
        const key = JSON.stringify(lack);
        const gap = found.get(key) ?? { lack, cans: [] };
        if (!gap.cans.includes(name)) gap.cans.push(name);
        found.set(key, gap);
      }
    });
    return { rule, source: seamRules[rule], gaps: [...found.values()] };
  });
  return { method, rules };
}
