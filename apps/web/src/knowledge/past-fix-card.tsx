import { Anchor, Badge, Group, List, Paper, Stack, Text, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import type { PastFixHit } from '#contract/knowledge';
import { stepWords } from '../shared/defects.queries.js';
import { useFormat } from '../shared/format.js';
import { MarkedText } from './marked-text.js';

const SHOWN_REASONS = 2;

/** One hit: what it is, the place that matched, the fix, and why it was found. */
export function PastFixCard({ hit }: { hit: PastFixHit }) {
  const { t } = useTranslation('knowledge');
  const format = useFormat();
  const address = hit.kind === 'note' ? `/past-fixes/${hit.id}` : `/incidents/${hit.id}`;
  const standing = [hit.helped > 0 ? t('hit.helped', { count: hit.helped }) : null, hit.confirmed > 0 ? t('hit.confirmed', { count: hit.confirmed }) : null, hit.kind === 'note' ? t(hit.verified ? 'hit.verified' : 'hit.notVerified') : null].filter((part) => part !== null);
  const heads = hit.kind === 'note' ? 'fieldHeads' as const : 'incidentHeads' as const;
  const why = matchesOf(hit).map(({ how, word, found, fields }) => t('match.in', {
    reason: t(`match.${how}`, { word, count: found.length, found: found.map((words) => t('hit.quoted', { words })).join(', ') }), fields: fields.map((field) => t(`${hit.kind === 'note' ? 'fields' as const : 'incidentFields' as const}.${field}`)).join(', '),
  }));
  const facts = [hit.kind === 'note' ? hit.defectName : null, hit.stepKind === null ? null : stepWords(hit.stepKind), hit.machine, hit.customer === null ? null : t('hit.customer', { customer: hit.customer }),
    hit.state === null ? null : t(hit.state === 'closed' ? 'state.closed' : 'state.open'), t('hit.changed', { date: format.date(hit.changedAt) })].filter((fact) => fact !== null);
  return (
    <Paper component="li" withBorder p="md" style={{ listStyle: 'none' }}>
      <Stack gap={6}>
        <Group gap="sm" align="center">
          <Title order={2} size="h4"><Anchor component={Link} to={address} c="inherit" underline="always">{hit.kind === 'note' ? null : t('hit.incidentTitle', { id: hit.id })}<MarkedText parts={hit.title} /></Anchor></Title>
          <Badge variant="default" tt="none">{t(`kind.${hit.kind}`)}</Badge>
        </Group>
        <Text size="sm" c="dimmed">{facts.join(' · ')}</Text>
        {standing.length > 0 ? <Text size="sm">{standing.join(' · ')}</Text> : null}
        <Text><Text span fw={600}>{t(`${heads}.${hit.excerptOf}`)}</Text>{': '}<MarkedText parts={hit.excerpt} /></Text>
        {hit.excerptOf === 'fix' ? null : <Text>{hit.fix === '' ? t('hit.noFix') : <><Text span fw={600}>{hit.kind === 'note' ? t('hit.fix') : t('hit.action')}</Text>{': '}{hit.fix}</>}</Text>}
        {why.length > 0 ? <Text size="sm"><Text span size="sm" fw={600}>{t('hit.why')}</Text>{': '}{why.slice(0, SHOWN_REASONS).join('; ')}</Text> : null}
        {why.length > SHOWN_REASONS ? (
          <details>
            <summary>{t('hit.moreReasons', { count: why.length - SHOWN_REASONS })}</summary>
            <List size="sm">{why.slice(SHOWN_REASONS).map((reason) => <List.Item key={reason}>{reason}</List.Item>)}</List>
          </details>
        ) : null}
      </Stack>
    </Paper>
  );
}

/** What one typed word was found as, together: "leak" finds "Leaks" and "leaking". */
function matchesOf(hit: PastFixHit): (Pick<PastFixHit['matched'][number], 'how' | 'word' | 'fields'> & { found: string[] })[] {
  const together = new Map<string, ReturnType<typeof matchesOf>[number]>();
  for (const { word, how, found, fields } of hit.matched) {
    const entry = together.get(`${how}/${word}`) ?? { word, how, found: [], fields: [] };
    if (!entry.found.some((other) => other.toLowerCase() === found.toLowerCase())) entry.found.push(found);
    entry.fields = [...new Set([...entry.fields, ...fields])];
    together.set(`${how}/${word}`, entry);
  }
  return [...together.values()];
}
