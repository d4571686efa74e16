import { Group, List, NativeSelect, Text, TextInput } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import type { Choices, Kind } from './choices.js';
import type { ChartFault } from './compute/chart-request.js';
import { RuleChoice } from './rules/rule-choice.js';
import { Section } from './section.js';

type Props = { kinds: readonly Kind[]; kind: Kind; choices: Choices; faults: readonly ChartFault[]; onChange: (change: Partial<Choices>) => void };

/** Why a kind is the usual one for such data: those that can be. */
const REASONS = {
  'i-mr': 'chart.reasons.i-mr', 'xbar-r': 'chart.reasons.xbar-r', 'xbar-s': 'chart.reasons.xbar-s', 'deviation-from-nominal': 'chart.reasons.deviation-from-nominal',
  p: 'chart.reasons.p', c: 'chart.reasons.c', u: 'chart.reasons.u', g: 'chart.reasons.g', t: 'chart.reasons.t',
} as const;

export function ChartChoice({ kinds, kind, choices, faults, onChange }: Props) {
  const { t } = useTranslation('workbench');
  const [usual] = kinds;
  const label = (value: Kind) => { const name = t(`chart.kinds.${value}`); return value === usual ? t('chart.usual', { kind: name }) : name; };
  const field = (name: 'baseline' | 'lambda' | 'allowance' | 'interval', hint?: string) => (
    <TextInput label={t(`chart.${name}`)} description={hint} size="md" inputMode="decimal" value={choices[name]} error={faults.includes(name) ? t(`chart.${name}Fault`) : undefined} onChange={({ currentTarget: { value } }) => onChange({ [name]: value })} />
  );
  return (
    <Section title={t('chart.title')}>
      <NativeSelect label={t('chart.kind')} size="md" value={kind} data={kinds.map((value) => ({ value, label: label(value) }))} onChange={({ currentTarget: { value } }) => onChange({ kind: kinds.find((one) => one === value) ?? null })} />
      {usual !== undefined && usual in REASONS ? <Text size="sm">{t(REASONS[usual as keyof typeof REASONS])}</Text> : null}
      <Group gap="sm" align="flex-end">
        {kind === 'i-mr' || kind === 'xbar-r' || kind === 'xbar-s' ? field('baseline', t('chart.baselineHint')) : null}
        {kind === 'ewma' ? field('lambda') : null}
        {kind === 'cusum' ? <>{field('allowance')}{field('interval')}</> : null}
      </Group>
      {kind === 'ewma' || kind === 'cusum' ? <Text size="sm">{t('chart.targetHint')}</Text> : null}
      <RuleChoice choices={choices} onChange={onChange} />
    </Section>
  );
}

export function ChartNotes({ notes }: { notes: readonly ('rules-left-out' | 'no-variation' | 'spreads-differ' | 'spreads-unknown' | 'no-between' | 'short-gap-cannot-signal' | 'below-means-more-often' | 'no-lower-limit')[] }) {
  const { t } = useTranslation('workbench');
  return notes.length === 0 ? null : <List size="sm">{notes.map((note) => <List.Item key={note}>{t(`chart.notes.${note}`)}</List.Item>)}</List>;
}
