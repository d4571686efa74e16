import { Stack, Table, Text, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import type { PreviewView } from '#contract/ingest';
import { useReasonWords } from './reason-words.js';

const MARKS = { store: '✓', 'already-stored': '=', refused: '✕' } as const;

/** Counts, reasons and rows of a preview; a verdict is a sign and a word. */
export function PreviewTable({ preview, header }: { preview: PreviewView; header: readonly string[] }) {
  const { t } = useTranslation('ingest');
  const words = useReasonWords();
  const whatOf = ({ verdict, why, characteristics }: PreviewView['sample'][number]) => {
    const refused = why.map((one) => words.full(one)).join('; ');
    if (verdict === 'store') return refused ? t('preview.allBut', { reasons: refused }) : characteristics.join(', ');
    return refused || t('preview.known');
  };
  return (
    <Stack gap="sm">
      <Title order={2} size="h4">{t('preview.title')}</Title>
      <Text role="status">{preview.toStore === 0 ? `${t('preview.none')} ` : ''}{t('preview.counts', preview)}</Text>
      {preview.reasons.length > 0 ? (
        <Table maw={900}>
          <Table.Caption>{t('preview.reasons')}</Table.Caption>
          <Table.Thead><Table.Tr><Table.Th>{t('preview.reason')}</Table.Th><Table.Th>{t('preview.rows')}</Table.Th><Table.Th>{t('preview.first')}</Table.Th></Table.Tr></Table.Thead>
          <Table.Tbody>{preview.reasons.map((entry) => <Table.Tr key={entry.reason}><Table.Td>{words.short(entry.why)}</Table.Td><Table.Td>{entry.rows}</Table.Td><Table.Td>{entry.firstRow}</Table.Td></Table.Tr>)}</Table.Tbody>
        </Table>
      ) : null}
      <Table.ScrollContainer minWidth={900} mah={420}><Table verticalSpacing={4} stickyHeader>
        <Table.Thead><Table.Tr><Table.Th>{t('preview.row')}</Table.Th><Table.Th>{t('preview.verdict')}</Table.Th><Table.Th>{t('preview.what')}</Table.Th>{header.map((column) => <Table.Th key={column}>{column}</Table.Th>)}</Table.Tr></Table.Thead>
        <Table.Tbody>{preview.sample.map((row) => (
          <Table.Tr key={row.row}>
            <Table.Td>{row.row}</Table.Td><Table.Td className={row.verdict === 'refused' ? 'state-signal' : undefined} style={{ whiteSpace: 'nowrap' }}><span aria-hidden="true">{MARKS[row.verdict]} </span>{t(`verdicts.${row.verdict}`)}</Table.Td><Table.Td>{whatOf(row)}</Table.Td>
            {header.map((column, index) => <Table.Td key={column}>{row.cells[index]}</Table.Td>)}
          </Table.Tr>
        ))}</Table.Tbody>
      </Table></Table.ScrollContainer>
    </Stack>
  );
}
