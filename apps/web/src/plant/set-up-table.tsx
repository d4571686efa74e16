import { Button, Group, Stack, Table, Text, Title } from '@mantine/core';
import type { ReactNode } from 'react';
import { useTranslation } from 'react-i18next';

/** A list of one kind of record with its way to add and to change; the rows come formatted. */
export function SetUpTable({ title, text, columns, rows, add, edit, editWords, empty }: {
  title: string; text?: ReactNode; columns: readonly string[]; rows: readonly { id: number; name: string; cells: readonly ReactNode[]; /** True where nothing of it can be changed any more. */ closed?: boolean }[];
  /** What the button of a row says and is called; "Change" where nothing is given. */
  editWords?: { word: string; of: (name: string) => string } | undefined;
  add?: { label: string; onClick: () => void } | undefined; edit?: ((id: number) => void) | undefined; empty: string;
}) {
  const { t } = useTranslation('plant');
  return (
    <Stack gap="sm">
      <Group justify="space-between">
        <Title order={2} size="h4">{title}</Title>
        {add ? <Button onClick={add.onClick}>{add.label}</Button> : null}
      </Group>
      {text ? <Text c="dimmed">{text}</Text> : null}
      {rows.length === 0 ? <Text>{empty}</Text> : (
        <Table.ScrollContainer minWidth={600}>
          <Table striped verticalSpacing="xs">
            <Table.Thead><Table.Tr>{columns.map((column) => <Table.Th key={column}>{column}</Table.Th>)}{edit ? <Table.Th>{editWords?.word ?? t('setUp.change')}</Table.Th> : null}</Table.Tr></Table.Thead>
            <Table.Tbody>
              {rows.map((row) => (
                <Table.Tr key={row.id}>
                  {row.cells.map((cell, index) => <Table.Td key={columns[index]}>{cell}</Table.Td>)}
                  {edit ? <Table.Td>{row.closed ? null : <Button variant="default" size="xs" onClick={() => edit(row.id)} aria-label={editWords?.of(row.name) ?? t('setUp.changeOf', { name: row.name })}>{editWords?.word ?? t('setUp.change')}</Button>}</Table.Td> : null}
                </Table.Tr>
              ))}
            </Table.Tbody>
          </Table>
        </Table.ScrollContainer>
      )}
    </Stack>
  );
}
