import { List, Stack, Text } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import type { DefectEntry } from '#contract/knowledge';
import { stepWords } from './defects.queries.js';

/** What a defect is, who rates it how, where it comes from, and which source says so. */
export function DefectFacts({ defect }: { defect: DefectEntry }) {
  const { t } = useTranslation('knowledge');
  const fact = (label: string, text: string) => <Text size="sm"><strong>{label}</strong>{': '}{text}</Text>;
  const originWords = ({ step, weight, characteristics, units }: DefectEntry['origins'][number]) => [
    t('defect.origin', { step: stepWords(step), percent: wholePercent(weight) }),
    characteristics.length > 0 ? t('defect.shows', { names: characteristics.map(stepWords).join(', ') }) : t('defect.showsNowhere'),
    t(`defect.onlyOne.${units}`),
  ].join('; ');
  return (
    <details>
      <summary>{t('defect.about', { name: defect.name })}</summary>
      <Stack gap={6} pt="xs">
        {fact(t('defect.definition'), defect.definition)}
        {fact(t('defect.where'), defect.where)}
        <Text size="sm" fw={700}>{t('defect.origins')}</Text>
        <List size="sm">{defect.origins.map((origin) => <List.Item key={`${origin.step}/${origin.units}`}>{originWords(origin)}</List.Item>)}</List>
        <Text size="sm" c="dimmed">{t('defect.weights')}</Text>
        {fact(t('defect.causes'), `${defect.causes.join('; ')} (${t('defect.noSource')})`)}
        {fact(t('defect.howToCheck'), defect.howToCheck)}
        {fact(t('defect.caution'), defect.caution)}
        <Text size="sm" fw={700}>{t('defect.severities')}</Text>
        {defect.severities.length === 0 ? <Text size="sm">{t('defect.noSeverity')}</Text> : (
          <>
            <List size="sm">{defect.severities.map((severity) => <List.Item key={`${severity.scheme}/${severity.class}`}>{t('defect.severity', severity)}</List.Item>)}</List>
            <Text size="sm" c="dimmed">{t('defect.apart')}</Text>
          </>
        )}
        {fact(t('defect.sources'), defect.sources.length > 0 ? defect.sources.join('; ') : t('defect.noSource'))}
      </Stack>
    </details>
  );
}

// A weight that rounds to nothing is still an origin.
const wholePercent = (weight: number) => (weight < 0.01 ? '< 1' : String(Math.round(100 * weight)));
