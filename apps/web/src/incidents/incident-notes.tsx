import { Anchor, Button, Group, Paper, Stack, Text, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import type { Incident } from '#contract/incidents';
import { investigators } from '#contract/roles';
import { useReasonWords } from '../shared/note-reasons.js';
import { ProblemList } from '../shared/problem-list.js';
import { useMay } from '../shared/session.js';
import { useJudgeNote } from './incidents.queries.js';

/** Confirmed notes first, then suggestions with the reason for each, waiting for a person's word. */
export function IncidentNotes({ incident }: { incident: Incident }) {
  const { t } = useTranslation('incidents');
  const [judge, mayJudge] = [useJudgeNote(incident.id), useMay(investigators)];
  const why = useReasonWords();
  const button = (linkId: number, fits: boolean, title: string) => {
    const act = fits ? t('notes.fits') : t('notes.not');
    return <Button variant={fits ? 'default' : 'subtle'} onClick={() => judge.mutate({ linkId, fits })} aria-label={t('notes.actFor', { act, title })}>{act}</Button>;
  };
  return (
    <section>
      <Group pb="xs">
        <Title order={2} size="h4">{t('notes.title')}</Title>
        <Button component={Link} variant="default" to={`/past-fixes?${new URLSearchParams({ q: `${incident.defectName} ${incident.leakPlace}` })}`}>{t('notes.search')}</Button>
        {mayJudge ? <Button component={Link} variant="default" to={`/past-fixes/new?incident=${incident.id}`}>{t('notes.write')}</Button> : null}
      </Group>
      {incident.notes.length === 0 ? <Text c="dimmed">{t('notes.none')}</Text> : null}
      <Stack component="ul" gap="sm" p={0} m={0}>
        {incident.notes.map((link) => (
          <Paper component="li" withBorder p="sm" key={link.id} style={{ listStyle: 'none' }}>
            <Anchor component={Link} to={`/past-fixes/${link.noteId}`} underline="always" fw={600}>{link.noteTitle}</Anchor>
            <Text>{t('notes.fix', { fix: link.noteFix })}</Text>
            <Group gap="sm">
              <Text size="sm" c="dimmed">{link.confirmedBy === null ? t('notes.suggested', { reason: why(link) }) : t('notes.confirmed', { name: link.confirmedBy })}</Text>
              {mayJudge && link.confirmedBy === null ? <>{button(link.id, true, link.noteTitle)}{button(link.id, false, link.noteTitle)}</> : null}
            </Group>
          </Paper>
        ))}
      </Stack>
      <ProblemList error={judge.error} />
    </section>
  );
}
