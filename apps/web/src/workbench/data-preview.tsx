import { List, Table, Text } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import type { Column, DataTable } from './read/read-table.js';

const ROWS = 5;
const COLUMNS = 12;
const REFUSED = 8;

const cell = ({ texts, numbers }: Column, row: number): string | null => {
  const text = texts?.[row];
  if (text !== undefined) return text === '' ? null : text;
  const value = numbers[row] ?? Number.NaN;
  return Number.isNaN(value) ? null : String(value);
};

/** What was understood: how many rows and columns, the first rows, and every kind of cell that is no number. */
export function DataPreview({ table: { rows, columns, firstLine } }: { table: DataTable }) {
  const { t } = useTranslation('workbench');
  const shown = columns.slice(0, COLUMNS);
  const lines = Array.from({ length: Math.min(ROWS, rows) }, (_none, row) => row + firstLine);
  // A column of words names something; only one that is mostly numbers can hold mistakes.
  const numeric = columns.filter(({ textCount, missing }) => textCount * 2 < rows - missing);
  const refused = numeric.flatMap(({ name, firstTexts }) => firstTexts.map((entry) => ({ ...entry, name })));
  const texts = numeric.reduce((sum, { textCount }) => sum + textCount, 0);
  return (
    <>
      <Text role="status" fw={600}>{t('data.summary', { rows: rows.toLocaleString('en-GB'), count: columns.length })}</Text>
      <Table.ScrollContainer minWidth={Math.min(160 + shown.length * 80, 900)}>
        <Table aria-label={t('data.preview')}>
          <Table.Thead><Table.Tr><Table.Th scope="col">{t('data.row')}</Table.Th>{shown.map(({ name }) => <Table.Th key={name} scope="col">{name}</Table.Th>)}</Table.Tr></Table.Thead>
          <Table.Tbody>
            {lines.map((line) => (
              <Table.Tr key={line}><Table.Th scope="row">{line}</Table.Th>{shown.map((column) => <Table.Td key={column.name}>{cell(column, line - firstLine) ?? <Text span c="dimmed" size="sm">{t('data.blank')}</Text>}</Table.Td>)}</Table.Tr>
            ))}
          </Table.Tbody>
        </Table>
      </Table.ScrollContainer>
      {rows > ROWS ? <Text size="sm" c="dimmed">{t('data.previewMore', { count: rows - ROWS })}</Text> : null}
      {texts === 0 ? null : (
        <details>
          <summary>{t('data.refused', { count: texts })}</summary>
          <List size="sm">
            {refused.slice(0, REFUSED).map(({ line, name, text }) => <List.Item key={`${line}/${name}`}>{t('data.refusedCell', { row: line, column: name, text })}</List.Item>)}
            {texts > REFUSED ? <List.Item>{t('data.refusedMore', { count: texts - REFUSED })}</List.Item> : null}
          </List>
        </details>
      )}
    </>
  );
}
