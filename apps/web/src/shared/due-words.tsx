import { Text } from '@mantine/core';
import type { TFunction } from 'i18next';
import { useTranslation } from 'react-i18next';
import { planOpener } from '#contract/check-plans';
import type { DueCheck } from '#contract/due-checks';
import { useFormat } from './format.js';
import { ageOf } from './signal-words.js';

/** How long, in the two units that matter. */
export function durationOf(t: TFunction<'signals'>, minutes: number): string {
  const { key, values } = ageOf(minutes);
  return t(key, values);
}

/** The word of what opened a check; a stop that did was a long one. */
export function openerWord(t: TFunction<'floor'>, kind: string): string {
  const known = planOpener.safeParse(kind === 'stop' ? 'long-stop' : kind);
  return known.success ? t(`openers.${known.data}`) : kind;
}

/** Where the check is logged: its machine, its plan, and the units whose turn it is. */
export const logAddress = ({ machineId, planId, units }: Pick<DueCheck, 'machineId' | 'planId' | 'units'>): string => `/log?machine=${machineId}&plan=${planId}${units.length === 0 ? '' : `&units=${units.map(({ id }) => id).join(',')}`}`;

/** Goes with a link to `logAddress`: whoever follows it begins to type at once. */
export const BEGIN = { begin: true };
export const isBegin = (state: unknown): boolean => typeof state === 'object' && state !== null && 'begin' in state && state.begin === true;

/** Why a check is due and where its interval comes from. */
export function DueWords({ due }: { due: DueCheck }) {
  const { t } = useTranslation('floor');
  const { t: ages } = useTranslation('signals');
  const format = useFormat();
  const { basis, minutesOver, cansOver, cause, everyMinutes, everyCans } = due;
  const over = durationOf(ages, minutesOver ?? 0);
  const interval = () => {
    if (basis === 'cans') return cansOver === null ? t('over.neverCans', { every: format.number(everyCans ?? 0, 0) }) : t('over.cans', { cans: format.number(cansOver, 0), every: format.number(everyCans ?? 0, 0) });
    if (minutesOver === null) return t('over.neverMinutes', { every: everyMinutes ?? 0 });
    return t(basis === 'running' ? 'over.running' : 'over.clock', { over, every: everyMinutes ?? 0 });
  };
  const source = cause && basis === 'event' ? due.eventsSource : basis === 'cans' ? due.cansSource : due.intervalSource;
  return (
    <>
      {basis === 'event' ? null : <Text size="sm">{interval()}</Text>}
      {cause ? <Text size="sm">{t('over.event', { at: format.dateTime(cause.at), event: t('event', { kind: openerWord(t, cause.kind), text: cause.text }) })}</Text> : null}
      {due.moreCauses > 0 ? <Text size="sm" c="dimmed">{t('over.more', { count: due.moreCauses })}</Text> : null}
      {due.units.length > 0 ? <Text size="sm">{t('units', { units: due.units.map(({ code }) => code).join(', ') })}</Text> : null}
      <Text size="sm" c="dimmed">{t('source', { source: source || t('noSource') })}</Text>
    </>
  );
}
