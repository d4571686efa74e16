import { List, Stack, Text } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import type { DefectEntry } from '#contract/knowledge';
import { stepWords } from './defects.queries.js';

/** What a defect is, who rates it how, where it comes from, and which source says so. */
export function DefectFacts({ defect }: { defect: DefectEntry }) {
  const { t } = useTranslation('knowledge');
  const fact = (label: string, text: string) => <Text size="sm"><strong>{label}</strong>{': '}{text}</Text>;
  return (
    <details>
      <summary>{t('defect.about', { name: defect.name })}</summary>
      <Stack gap={6} pt="xs">
        {fact(t('defect.definition'), defect.definition)}
        {fact(t('defect.where'), defect.where)}
        {fact(t('defect.steps'), defect.upstreamSteps.map(stepWords).join(', '))}
        {fact(t('defect.causes'), `${defect.causes.join('; ')} (${t('defect.noSource')})`)}
        {fact(t('defect.howToCheck'), defect.howToCheck)}
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
