import { Button, Code, Stack, Table, Text, TextInput, Title } from '@mantine/core';
import { useDebouncedValue } from '@mantine/hooks';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { useFormat } from '../shared/format.js';
import { QueryView } from '../shared/states.js';
import { useAudit } from './set-up.queries.js';

/** A long value stays in its column, so that all columns fit a tablet. */
const WRAPPED = { whiteSpace: 'pre-wrap', overflowWrap: 'anywhere' } as const;

/** Who did what, newest first; the trail is append-only. */
export function AuditSection() {
  const { t } = useTranslation('plant');
  const format = useFormat();
  const [subject, setSubject] = useState('');
  const [asked] = useDebouncedValue(subject.trim(), 300);
  const trail = useAudit(asked);
  return (
    <Stack>
      <Title order={2} size="h4">{t('setUp.sections.audit')}</Title>
      <Text c="dimmed">{t('setUp.audit.text')}</Text>
      <TextInput label={t('setUp.audit.subject')} description={t('setUp.audit.subjectHint')} maw={420} value={subject} onChange={(event) => setSubject(event.currentTarget.value)} />
      <QueryView query={trail} what={t('setUp.sections.audit')} isEmpty={(data) => data.pages.every((page) => page.length === 0)} empty={<Text>{t('setUp.audit.empty')}</Text>}>{(data) => (
        <Table.ScrollContainer minWidth={700}><Table verticalSpacing="xs" layout="fixed">
          <Table.Thead><Table.Tr><Table.Th>{t('setUp.audit.at')}</Table.Th><Table.Th>{t('setUp.audit.who')}</Table.Th><Table.Th>{t('setUp.audit.what')}</Table.Th><Table.Th>{t('setUp.audit.subject')}</Table.Th><Table.Th>{t('setUp.audit.before')}</Table.Th><Table.Th>{t('setUp.audit.after')}</Table.Th></Table.Tr></Table.Thead>
          <Table.Tbody>{data.pages.flat().map((row) => (
            <Table.Tr key={row.id}><Table.Td>{format.dateTime(row.at)}</Table.Td><Table.Td>{row.actor}</Table.Td><Table.Td>{row.action}</Table.Td><Table.Td>{row.subject}</Table.Td>
              <Table.Td>{row.before === null ? '–' : <Code style={WRAPPED}>{JSON.stringify(row.before)}</Code>}</Table.Td><Table.Td>{row.after === null ? '–' : <Code style={WRAPPED}>{JSON.stringify(row.after)}</Code>}</Table.Td></Table.Tr>
          ))}</Table.Tbody>
        </Table></Table.ScrollContainer>
      )}</QueryView>
      {trail.hasNextPage ? <Button variant="default" style={{ alignSelf: 'flex-start' }} loading={trail.isFetchingNextPage} onClick={() => void trail.fetchNextPage()}>{t('setUp.audit.older')}</Button> : null}
    </Stack>
  );
}
