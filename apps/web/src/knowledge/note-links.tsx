import { Anchor, Button, Group, Stack, Text, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import type { NoteLink } from '#contract/knowledge';
import { investigators } from '#contract/roles';
import { useReasonWords } from '../shared/note-reasons.js';
import { ProblemList } from '../shared/problem-list.js';
import { useMay } from '../shared/session.js';
import { useConfirmLink, useRejectLink } from './knowledge.queries.js';

/** The signals and incidents that a note is linked to; suggestions wait for a person's word. */
export function NoteLinks({ links }: { links: readonly NoteLink[] }) {
  const { t } = useTranslation('knowledge');
  const [confirm, reject, mayJudge] = [useConfirmLink(), useRejectLink(), useMay(investigators)];
  const why = useReasonWords();
  return (
    <section>
      <Title order={2} size="h4">{t('links.title')}</Title>
      {links.length === 0 ? <Text c="dimmed">{t('links.none')}</Text> : null}
      <Stack component="ul" gap={6} p={0} m={0}>
        {links.map((link) => {
          const what = link.signalId === null ? t('links.incident', { id: link.incidentId ?? 0, about: link.about }) : t('links.signal', { id: link.signalId, about: link.about });
          const act = (words: string) => ({ 'aria-label': t('links.confirmFor', { act: words, what }) });
          return (
            <Group component="li" key={link.id} gap="sm">
              <Anchor component={Link} to={link.signalId === null ? `/incidents/${link.incidentId}` : `/signals/${link.signalId}`} underline="always">{what}</Anchor>
              <Text size="sm" c="dimmed">{link.confirmedBy === null ? t('links.suggested', { reason: why(link) }) : t('links.confirmedBy', { name: link.confirmedBy })}</Text>
              {mayJudge && link.confirmedBy === null ? <Button variant="default" onClick={() => confirm.mutate(link.id)} {...act(t('links.confirm'))}>{t('links.confirm')}</Button> : null}
              {mayJudge ? <Button variant="subtle" onClick={() => reject.mutate(link.id)} {...act(link.confirmedBy === null ? t('links.reject') : t('links.unlink'))}>{link.confirmedBy === null ? t('links.reject') : t('links.unlink')}</Button> : null}
            </Group>
          );
        })}
      </Stack>
      <ProblemList error={confirm.error ?? reject.error} />
    </section>
  );
}
