import { Anchor, Badge, Group, List, Paper, Stack, Text, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import type { PastFixHit } from '#contract/knowledge';
import { stepWords } from '../shared/defects.queries.js';
import { useFormat } from '../shared/format.js';
import { MarkedText } from './marked-text.js';

/** One hit: what it is, the place that matched, the fix, and why it was found. */
export function PastFixCard({ hit }: { hit: PastFixHit }) {
  const { t } = useTranslation('knowledge');
  const format = useFormat();
  const address = hit.kind === 'note' ? `/past-fixes/${hit.id}` : `/incidents/${hit.id}`;
  const facts = [hit.kind === 'note' ? null : t('hit.incidentTitle', { id: hit.id }), hit.defectName, hit.stepKind === null ? null : stepWords(hit.stepKind), hit.machine, hit.customer === null ? null : t('hit.customer', { customer: hit.customer }),
    hit.state === null ? null : t(hit.state === 'closed' ? 'state.closed' : 'state.open'), t('hit.changed', { date: format.date(hit.changedAt) })].filter((fact) => fact !== null);
  return (
    <Paper component="li" withBorder p="md" style={{ listStyle: 'none' }}>
      <Stack gap={6}>
        <Group gap="sm" align="center">
          <Title order={2} size="h4"><Anchor component={Link} to={address} c="inherit" underline="always"><MarkedText parts={hit.title} /></Anchor></Title>
          <Badge variant="default" tt="none">{t(`kind.${hit.kind}`)}</Badge>
        </Group>
        <Text size="sm" c="dimmed">{facts.join(' · ')}</Text>
        <Text><Text span fw={600}>{t(`fields.${hit.excerptOf}`)}</Text>{': '}<MarkedText parts={hit.excerpt} /></Text>
        {hit.excerptOf === 'fix' ? null : <Text>{hit.fix === '' ? t('hit.noFix') : <><Text span fw={600}>{t('hit.fix')}</Text>{': '}{hit.fix}</>}</Text>}
        {hit.matched.length > 0 ? (
          <details>
            <summary>{t('hit.why')}</summary>
            <List size="sm">{hit.matched.map((match) => <List.Item key={`${match.word}/${match.how}/${match.found}`}>{t('match.in', { reason: t(`match.${match.how}`, match), fields: match.fields.map((field) => t(`fields.${field}`)).join(', ') })}</List.Item>)}</List>
          </details>
        ) : null}
      </Stack>
    </Paper>
  );
}
