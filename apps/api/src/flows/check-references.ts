import { implausible } from '#canmaking/plausibility';
import type { NewCheck } from '#contract/inspections';
import { type FieldError, Problem } from '#contract/problem';
import { extraErrors, futureErrors } from './check-extras.js';
import type { MasterData } from './master-data.js';

/** Refuses a batch whose checks name things that are not there, or whose shape does not add up; asks about readings that cannot be. */
export function checkReferences(checks: readonly NewCheck[], masterData: MasterData, now: Date): void {
  const wrong: FieldError[] = [];
  const doubtful: FieldError[] = [];
  checks.forEach((check, index) => {
    const at = checks.length > 1 ? `${index}.` : '';
    wrong.push(...referenceErrors(check, masterData, now).map((error) => ({ ...error, field: at + error.field })));
    if (!check.confirmed) doubtful.push(...implausibleReadings(check, masterData).map((error) => ({ ...error, field: at + error.field })));
  });
  if (wrong.length > 0) throw new Problem('invalid-input', wrong[0] && `${wrong[0].field}: ${wrong[0].expected}`, wrong.slice(0, 50));
  if (doubtful.length > 0) throw new Problem('implausible-reading', 'Measure again, correct the entry, or confirm that the readings are as measured.', doubtful.slice(0, 50));
}

export function referenceErrors(check: NewCheck, masterData: MasterData, now: Date): FieldError[] {
  const errors: FieldError[] = [];
  const machine = masterData.machines.get(check.machineId);
  if (!machine) errors.push({ field: 'machineId', expected: 'the id of a machine of this plant' });
  if (!masterData.products.has(check.productId)) errors.push({ field: 'productId', expected: 'the id of a product of this plant' });
  errors.push(...futureErrors(check.takenAt, 'takenAt', now));
  const plan = check.planId === undefined ? null : masterData.plans.get(check.planId);
  if (plan === undefined) errors.push({ field: 'planId', expected: 'the id of a check plan of this plant' });
  else if (plan && (plan.machineId !== check.machineId || plan.productId !== check.productId)) errors.push({ field: 'planId', expected: `a check plan for this machine and product: "${plan.name}" is for another` });
  check.positions.forEach((position, index) => {
    if (check.positions.indexOf(position) < index) errors.push({ field: `positions.${index}`, expected: `each position once: "${position}" is there twice` });
  });
  check.cans.forEach((can, index) => {
    if (machine && can.unitId !== undefined && !machine.unitIds.has(can.unitId)) errors.push({ field: `cans.${index}.unitId`, expected: `a unit of machine ${machine.code}` });
    if (machine && can.laneId !== undefined && !machine.laneIds.has(can.laneId)) errors.push({ field: `cans.${index}.laneId`, expected: `a lane of the line of machine ${machine.code}` });
  });
  const codes = new Set<string>();
  check.characteristics.forEach((entry, index) => {
    const field = `characteristics.${index}`;
    const known = masterData.characteristics.get(entry.code);
    if (!known) errors.push({ field: `${field}.code`, expected: `a characteristic of this plant, not "${entry.code}"` });
    if (known?.formula) errors.push({ field: `${field}.code`, expected: `a measured characteristic: ${entry.code} is derived by the server` });
    if (codes.has(entry.code)) errors.push({ field: `${field}.code`, expected: `each characteristic once: ${entry.code} is there twice` });
    codes.add(entry.code);
    if (entry.gaugeId !== undefined && !masterData.gaugeIds.has(entry.gaugeId)) errors.push({ field: `${field}.gaugeId`, expected: 'the id of a gauge of this plant' });
    const wanted = check.cans.length * check.positions.length;
    if (entry.readings.length !== wanted) errors.push({ field: `${field}.readings`, expected: `${check.cans.length} cans by ${check.positions.length} positions = ${wanted} readings (null where one is missing), not ${entry.readings.length}` });
  });
  errors.push(...extraErrors(check, masterData, now));
  const given = check.characteristics.some((entry) => entry.readings.some((reading) => reading !== null)) || check.ratings?.some(({ ratings }) => ratings.some((rating) => rating !== null)) || (check.counts ?? []).length > 0;
  if (errors.length === 0 && !given) errors.push({ field: 'characteristics', expected: 'at least one reading, count or rating' });
  return errors;
}

/** Readings outside what the can or the gauge allows; a value off the gauge's step is not asked about, since averages of two readings are entered too. */
export function implausibleReadings(check: NewCheck, masterData: MasterData): FieldError[] {
  return check.characteristics.flatMap((entry, index) => {
    const known = masterData.characteristics.get(entry.code);
    if (!known) return [];
    const errors: FieldError[] = [];
    for (let place = 0; place < entry.readings.length; place += 1) {
      const reading = entry.readings[place] ?? null;
      if (reading === null || (reading >= (known.plausibleLow ?? -Infinity) && reading <= (known.plausibleHigh ?? Infinity))) continue;
      const doubt = implausible(reading, { low: known.plausibleLow, high: known.plausibleHigh, gaugeStep: null });
      if (!doubt) continue;
      const meant = doubt.suggestion === null ? '' : `; ${doubt.suggestion} would be possible: did the decimal slip?`;
      errors.push({ field: `characteristics.${index}.readings.${place}`, expected: `${known.name} between ${known.plausibleLow ?? 'any'} and ${known.plausibleHigh ?? 'any'}, not ${reading}${meant}` });
    }
    return errors;
  });
}
