import './planner.css';
import { List, Paper, Stack, Text, Title } from '@mantine/core';
import type { TFunction } from 'i18next';
import { useTranslation } from 'react-i18next';
import type { StreamVariation, VariationComponent } from '#contract/planner';
import { type Format, useFormat } from '../shared/format.js';

/** "between checks and cans" where the readings cannot tell the two apart. */
const nameOf = (t: TFunction<'planner'>, { sources }: VariationComponent): string => t(`source.${sources.join('-') as 'check' | 'check-can' | 'check-can-position' | 'can' | 'can-position' | 'position'}`);
const percent = (format: Format, share: number | null) => format.number(share === null ? null : share * 100, 0);

/** What the readings of the stream consist of, in a bar and in words, and what makes them less than they seem. */
export function VariationView({ variation }: { variation: StreamVariation }) {
  const { t } = useTranslation('planner');
  const format = useFormat();
  const { used, mean, components, refusal, steadiness, stream: { characteristic: { unit, decimals } } } = variation;
  if (refusal !== null) return <Paper withBorder p="md" component="section"><Title order={2} size="h4">{t('variation.title')}</Title><Text>{t(`variation.refusal.${refusal}`)}</Text></Paper>;
  const sentence = components.map((component) => t('variation.part', { name: nameOf(t, component), share: percent(format, component.share) })).join(', ');
  const negative = components.filter(({ raw }) => raw < 0);
  return (
    <Paper withBorder p="md" component="section">
      <Stack gap="sm">
        <Title order={2} size="h4">{t('variation.title')}</Title>
        <Text>{t('variation.from', { checks: used.checks, cans: used.cans, readings: used.readings, from: format.dateTime(used.from ?? ''), to: format.dateTime(used.to ?? ''), mean: format.withUnit(mean, decimals + 1, unit) })}</Text>
        <div className="variation-bar" role="img" aria-label={t('variation.bar', { parts: sentence })}>
          {components.map((component) => (component.share === null || component.share <= 0 ? null : <span key={component.sources[0]} className={`variation-part variation-${component.sources[0]}`} style={{ flexGrow: component.share }} />))}
        </div>
        <List size="sm" listStyleType="none" className="variation-words">
          {components.map((component) => (
            <List.Item key={component.sources[0]} icon={<span className={`variation-key variation-${component.sources[0]}`} />}>
              {t('variation.line', { name: nameOf(t, component), share: percent(format, component.share), sd: format.withUnit(Math.sqrt(component.variance), decimals + 2, unit), df: component.df })}
              {component.interval ? ` ${t('variation.interval', { low: format.number(Math.sqrt(component.interval.low), decimals + 2), high: format.withUnit(Math.sqrt(component.interval.high), decimals + 2, unit) })}` : null}
            </List.Item>
          ))}
        </List>
        {negative.map((component) => <Text key={component.sources[0]} size="sm">{t('variation.negative', { name: nameOf(t, component) })}</Text>)}
        {components.some(({ sources }) => sources.length > 1) ? <Text size="sm">{t('variation.together')}</Text> : null}
        {steadiness.signalled > 0 ? <Text size="sm">{t('variation.unsteady', { count: steadiness.signalled, open: steadiness.openSignals })}</Text> : null}
        {steadiness.notJudged > 0 ? <Text size="sm">{t('variation.notJudged', { count: steadiness.notJudged })}</Text> : null}
        {used.older ? <Text size="sm" c="dimmed">{t('variation.older')}</Text> : null}
        {used.otherFormula > 0 ? <Text size="sm">{t('variation.otherFormula', { count: used.otherFormula })}</Text> : null}
      </Stack>
    </Paper>
  );
}
