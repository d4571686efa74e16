import { Button, Group, Stack, Table, Text } from '@mantine/core';
import { useContext } from 'react';
import { useTranslation } from 'react-i18next';
import { useFormat } from '../../shared/format.js';
import { useKeptStudies } from '../../shared/kept-studies.queries.js';
import { ProblemList } from '../../shared/problem-list.js';
import { SessionContext } from '../../shared/session.js';
import { ErrorState, Loading } from '../../shared/states.js';
import { stateShape, type WorkbenchState } from '../choices.js';
import { Section } from '../section.js';
import { offerFile } from '../share/offer-file.js';
import { useOpenStudy } from './workbench.queries.js';

/** What was saved before; only for people of the plant. */
export function StudyList({ onOpen }: { onOpen: (state: WorkbenchState) => void }) {
  return useContext(SessionContext)?.person ? <List onOpen={onOpen} /> : null;
}

function List({ onOpen }: { onOpen: (state: WorkbenchState) => void }) {
  const { t } = useTranslation('workbench');
  const format = useFormat();
  const query = useKeptStudies();
  const opening = useOpenStudy();
  const studies = query.data?.pages.flatMap((page) => page.studies) ?? [];
  const study = opening.data;
  const state = study ? stateShape.safeParse(study.state) : null;
  const open = (id: number) => opening.mutate(id, { onSuccess: (found) => { const read = stateShape.safeParse(found.state); if (read.success) { onOpen(read.data); window.scrollTo({ top: 0 }); } } });
  return (
    <Section title={t('studies.list')}>
      {opening.isError ? <ProblemList error={opening.error} /> : null}
      {study ? (
        <Stack gap="xs">
          <Text role="status">{state?.success ? t('studies.opened', { title: study.title, author: study.author, when: format.dateTime(study.createdAt), version: study.version }) : t('studies.cannotOpen')}</Text>
          {study.note === '' ? null : <Text style={{ whiteSpace: 'pre-wrap' }}>{study.note}</Text>}
          <Group><Button size="sm" variant="default" onClick={() => offerFile(`${t('studies.file', { id: study.id })}.json`, 'application/json', JSON.stringify(study, null, 1))}>{t('studies.answers')}</Button></Group>
        </Stack>
      ) : null}
      {query.isPending ? <Loading what={t('studies.what')} /> : query.data === undefined ? <ErrorState error={query.error} retry={() => void query.refetch()} /> : studies.length === 0 ? <Text c="dimmed">{t('studies.none')}</Text> : (
          <Table.ScrollContainer minWidth={480}>
            <Table>
              <Table.Thead><Table.Tr><Table.Th scope="col">{t('studies.name')}</Table.Th><Table.Th scope="col">{t('studies.author')}</Table.Th><Table.Th scope="col">{t('studies.when')}</Table.Th><Table.Td /></Table.Tr></Table.Thead>
              <Table.Tbody>
                {studies.map(({ id, title, author, createdAt }) => (
                  <Table.Tr key={id}>
                    <Table.Th scope="row">{title}</Table.Th><Table.Td>{author}</Table.Td><Table.Td>{format.dateTime(createdAt)}</Table.Td>
                    <Table.Td><Button size="sm" variant="default" loading={opening.isPending && opening.variables === id} aria-label={t('studies.openNamed', { title })} onClick={() => open(id)}>{t('studies.open')}</Button></Table.Td>
                  </Table.Tr>
                ))}
              </Table.Tbody>
            </Table>
          </Table.ScrollContainer>
      )}
      {query.hasNextPage ? <Group><Button size="sm" variant="default" loading={query.isFetchingNextPage} onClick={() => void query.fetchNextPage()}>{t('studies.more')}</Button></Group> : null}
    </Section>
  );
}
