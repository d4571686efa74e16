import { List, Stack, Table, Text, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import type { SetUpReport } from '#contract/plant-set-up';

/** What an import made and changed, or would: row by row, each field before and after. */
export function SetUpChanges({ report: { changes, same }, heading }: { report: SetUpReport; heading: string }) {
  const { t } = useTranslation('portable');
  const untouched = Object.values(same).reduce((sum, count) => sum + count, 0);
  return (
    <Stack gap="xs" role="status">
      <Title order={3} size="h5">{changes.length === 0 ? t('setUp.nothing') : heading}</Title>
      {untouched > 0 ? <Text c="dimmed">{t('setUp.same', { count: untouched })}</Text> : null}
      {changes.length === 0 ? null : (
        <Table.ScrollContainer minWidth={640} mah={420} style={{ overflowY: 'auto' }}>
          <Table verticalSpacing="xs">
            <Table.Thead><Table.Tr>{(['what', 'act', 'fields', 'where'] as const).map((head) => <Table.Th key={head} scope="col">{t(`setUp.${head}`)}</Table.Th>)}</Table.Tr></Table.Thead>
            <Table.Tbody>{changes.map((change) => (
              <Table.Tr key={`${change.section}/${change.row}`}>
                <Table.Th scope="row">{change.name}</Table.Th><Table.Td>{t(`setUp.acts.${change.act}`)}</Table.Td>
                <Table.Td>{change.fields.length === 0 ? null : <List size="sm">{change.fields.map(({ field, before, after }) => <List.Item key={field}>{t('setUp.field', { field, before: before ?? t('setUp.nothingThere'), after: after ?? t('setUp.nothingThere') })}</List.Item>)}</List>}</Table.Td>
                <Table.Td>{t('setUp.place', { section: change.section, row: change.row + 1 })}</Table.Td>
              </Table.Tr>
            ))}</Table.Tbody>
          </Table>
        </Table.ScrollContainer>
      )}
    </Stack>
  );
}
