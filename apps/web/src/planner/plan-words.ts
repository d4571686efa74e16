import type { TFunction } from 'i18next';
import type { Format } from '../shared/format.js';

type Text = TFunction<'planner'>;

/** Three digits are more than such figures hold. */
export function rough(format: Format, value: number): string {
  const rounded = Number(value.toPrecision(3));
  return format.number(rounded, rounded >= 100 ? 0 : rounded >= 10 ? 1 : 2);
}

/** Minutes of running time in the unit that is read at a glance; null is beyond counting. A day is a day of running. */
export function duration(t: Text, format: Format, minutes: number | null, hoursPerDay: number): string {
  if (minutes === null) return t('answers.never');
  if (minutes < 120) return t('answers.minutes', { value: rough(format, minutes) });
  if (minutes < 48 * 60) return t('answers.hours', { value: rough(format, minutes / 60) });
  return t('answers.days', { value: rough(format, minutes / 60 / hoursPerDay) });
}

export const cans = (t: Text, format: Format, value: number | null): string => (value === null ? t('answers.never') : t('answers.cans', { value: rough(format, value) }));
