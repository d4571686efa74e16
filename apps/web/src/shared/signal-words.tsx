import type { TFunction } from 'i18next';
import { useTranslation } from 'react-i18next';
import type { SignalRow } from '#contract/signals';
import { type Format, useFormat } from './format.js';
import { signalSentence } from './signal-sentence.js';

/** What the rule saw, in words with numbers and units. Means are known finer than single readings: one decimal more. */
export function sentenceOf(t: TFunction<'signals'>, format: Format, signal: Pick<SignalRow, 'stream' | 'chart' | 'rule' | 'side' | 'seen'>): string {
  const { unit, decimals } = signal.stream.characteristic;
  const { head, tail, values } = signalSentence(signal, (value) => format.withUnit(value, decimals + 1, unit));
  return tail === null ? t(head, values) : t('sentence.whole', { head: t(head, values), tail: t(tail, values) });
}

/** "Body hook on SE1, unit H3". */
export function placeOf(t: TFunction<'signals'>, { characteristic, machine, unit, lane }: SignalRow['stream']): string {
  return [t('place.whole', { characteristic: characteristic.name, machine: machine.code }), unit ? t('place.unit', { code: unit.code }) : null, lane ? t('place.lane', { code: lane.code }) : null].filter((part) => part !== null).join(', ');
}

export function SignalSentence({ signal }: { signal: SignalRow }) {
  const { t } = useTranslation('signals');
  return <>{sentenceOf(t, useFormat(), signal)}</>;
}

export type Age = { key: 'age.minutes' | 'age.hours' | 'age.days'; values: { minutes: number; hours: number; days: number } };
/** How long, in the two units that matter. */
export function ageOf(minutes: number): Age {
  const values = { days: Math.floor(minutes / 1440), hours: Math.floor(minutes / 60) % 24, minutes: Math.floor(minutes % 60) };
  if (minutes < 60) return { key: 'age.minutes', values };
  return { key: minutes < 1440 ? 'age.hours' : 'age.days', values };
}
