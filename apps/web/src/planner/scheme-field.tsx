import { Checkbox, NativeSelect, Stack, Text } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import type { PlannedScheme } from '#contract/planner';
import { ALL_RULES } from '#statistics/rules/run-rules';
import { FigureField } from './figure-field.js';
import { CHARTS, choiceOf, schemeOf, toggled } from './rule-sets.js';

/** The chart that judges: run rules, an EWMA or a CUSUM, with their figures. */
export function SchemeField({ scheme, plan, onChange }: { scheme: PlannedScheme; plan: string; onChange: (scheme: PlannedScheme) => void }) {
  const { t } = useTranslation('planner');
  const { t: words } = useTranslation('specifications');
  const choice = choiceOf(scheme);
  const figure = (name: 'lambda' | 'width' | 'k' | 'h', value: number, change: (value: number) => PlannedScheme) => <FigureField name={name} label={t(`plans.${name}`)} value={value} onCommit={(next) => onChange(change(next))} />;
  return (
    <Stack gap="xs">
      <NativeSelect size="sm" aria-label={t('plans.of', { plan, name: t('plans.chart') })} value={choice} data={CHARTS.filter((name) => name !== 'own' || choice === 'own').map((value) => ({ value, label: t(`plans.charts.${value}`) }))}
        onChange={({ currentTarget: { value } }) => { const next = CHARTS.find((name) => name === value); if (next) onChange(schemeOf(next, scheme)); }} />
      {scheme.kind === 'ewma' ? <>{figure('lambda', scheme.lambda, (lambda) => ({ ...scheme, lambda }))}{figure('width', scheme.width, (width) => ({ ...scheme, width }))}</> : null}
      {scheme.kind === 'cusum' ? <>{figure('k', scheme.k, (k) => ({ ...scheme, k }))}{figure('h', scheme.h, (h) => ({ ...scheme, h }))}</> : null}
      {scheme.kind === 'rules' ? (
        <details>
          <summary>{t('plans.ruleCount', { count: scheme.rules.length })}</summary>
          <Stack gap={6} mt="xs" role="group" aria-label={t('plans.of', { plan, name: t('plans.rules') })}>
            {ALL_RULES.map((rule) => <Checkbox key={rule} size="xs" label={words(`rules.${rule}`)} checked={scheme.rules.includes(rule)} onChange={() => onChange({ kind: 'rules', rules: toggled(scheme.rules, rule) })} />)}
          </Stack>
        </details>
      ) : null}
    </Stack>
  );
}

/** The same in words, where it cannot be changed. */
export function SchemeWords({ scheme }: { scheme: PlannedScheme }) {
  const { t } = useTranslation('planner');
  const { t: words } = useTranslation('specifications');
  return (
    <>
      <Text size="sm">{t(`plans.charts.${choiceOf(scheme)}`)}</Text>
      <Text size="sm" c="dimmed">{scheme.kind === 'rules' ? scheme.rules.map((rule) => words(`rules.${rule}`)).join('; ') : scheme.kind === 'ewma' ? t('plans.ewmaOf', scheme) : t('plans.cusumOf', scheme)}</Text>
    </>
  );
}
