import { Anchor, Button, Group, Stack, Text, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import type { NoteLink } from '#contract/knowledge';
import { investigators } from '#contract/roles';
import { useReasonWords } from '../shared/note-reasons.js';
import { ProblemList } from '../shared/problem-list.js';
import { useMay } from '../shared/session.js';
import { QueryView } from '../shared/states.js';
import type { TraceSubject } from './trace-subject.js';
import { useJudgeNote, useNotes, useSimilar } from './traces.queries.js';

/** What was found out before in cases like this: root-cause notes to confirm or reject, and incidents that resemble it. */
export function BesideRanking({ subject }: { subject: TraceSubject }) {
  const { t } = useTranslation('traces');
  const why = useReasonWords();
  return (
    <Stack gap="lg" component="aside" aria-label={t('before.title')}>
      <section>
        <Title order={2} size="h4" pb="xs">{t('before.notes')}</Title>
        <QueryView query={useNotes(subject)} what={t('before.notes')} isEmpty={(notes) => notes.length === 0} empty={<Text c="dimmed">{t('before.noNotes')}</Text>}>
          {(notes) => <Notes subject={subject} notes={notes} />}
        </QueryView>
      </section>
      <section>
        <Title order={2} size="h4" pb="xs">{t('before.incidents')}</Title>
        <QueryView query={useSimilar(subject)} what={t('before.incidents')} isEmpty={({ incidents }) => incidents.length === 0} empty={<Text c="dimmed">{t('before.noIncidents')}</Text>}>
          {({ incidents }) => (
            <Stack component="ul" gap="md" p={0} m={0}>
              {incidents.map((incident) => (
                <li key={incident.id} style={{ listStyle: 'none' }}>
                  <Anchor component={Link} to={`/incidents/${incident.id}`} underline="always" fw={600} display="inline-block" py={4}>{t('before.incident', { id: incident.id, defect: incident.defectName })}</Anchor>
                  <Text size="sm">{incident.cause ? t('before.cause', { cause: incident.cause }) : t('before.noCause')}</Text>
                  {incident.fix ? <Text size="sm">{t('before.fix', { fix: incident.fix })}</Text> : null}
                  <Text size="sm" c="dimmed">{t('before.why', { reason: why({ reason: '', reasons: incident.reasons }) })}</Text>
                </li>
              ))}
            </Stack>
          )}
        </QueryView>
      </section>
    </Stack>
  );
}

function Notes({ subject, notes }: { subject: TraceSubject; notes: readonly NoteLink[] }) {
  const { t } = useTranslation('traces');
  const why = useReasonWords();
  const [judge, may] = [useJudgeNote(subject), useMay(investigators)];
  const button = (link: NoteLink, fits: boolean) => {
    const act = fits ? t('before.fits') : t('before.not');
    return <Button size="md" variant={fits ? 'default' : 'subtle'} disabled={judge.isPending} onClick={() => judge.mutate({ link, fits })} aria-label={t('before.actFor', { act, title: link.noteTitle })}>{act}</Button>;
  };
  return (
    <Stack component="ul" gap="md" p={0} m={0}>
      {notes.map((link) => (
        <li key={link.id} style={{ listStyle: 'none' }}>
          <Anchor component={Link} to={`/past-fixes/${link.noteId}`} underline="always" fw={600} display="inline-block" py={4}>{link.noteTitle}</Anchor>
          <Text size="sm">{t('before.fix', { fix: link.noteFix })}</Text>
          <Text size="sm" c="dimmed">{link.confirmedBy === null ? t('before.why', { reason: why(link) }) : t('before.confirmed', { name: link.confirmedBy })}</Text>
          {may && link.confirmedBy === null ? <Group gap="xs" pt={4}>{button(link, true)}{button(link, false)}</Group> : null}
        </li>
      ))}
      <ProblemList error={judge.error} />
    </Stack>
  );
}
