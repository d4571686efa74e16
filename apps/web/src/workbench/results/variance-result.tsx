import { Button, Group, Table, Text } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import type { Kind } from '../choices.js';
import { varianceRows } from '../compute/variance-request.js';
import type { Ground } from './panel-words.js';
import type { ChartAnswer } from './workbench-chart.figure.js';

/** How much of the variation lies between subgroups and how much within, and what that means for the chart. */
export function VarianceResult({ answer, kind, ground: { format, decimals, unit }, onKind }: { answer: ChartAnswer; kind: Kind; ground: Ground; onKind: (kind: Kind) => void }) {
  const { t } = useTranslation('workbench');
  const rows = varianceRows(answer);
  if (!rows) return null;
  const hasBetween = !answer.notes.includes('no-between');
  return (
    <>
      <Table.ScrollContainer minWidth={400}>
        <Table>
          <Table.Thead><Table.Tr>{(['source', 'sigma', 'share'] as const).map((name) => <Table.Th key={name} scope="col">{t(`variance.${name}`)}</Table.Th>)}</Table.Tr></Table.Thead>
          <Table.Tbody>
            {rows.map(({ source, sigma, share }) => (
              <Table.Tr key={source}><Table.Th scope="row">{t(`variance.sources.${source}`)}</Table.Th><Table.Td>{unit === '' ? format.number(sigma, decimals + 2) : format.withUnit(sigma, decimals + 2, unit)}</Table.Td><Table.Td>{t('variance.percent', { value: format.number(share * 100, 1) })}</Table.Td></Table.Tr>
            ))}
          </Table.Tbody>
        </Table>
      </Table.ScrollContainer>
      <Text>{t(hasBetween ? 'variance.between' : 'variance.noBetween')}</Text>
      {hasBetween && kind !== 'between-within' ? <Group><Button variant="default" size="md" onClick={() => onKind('between-within')}>{t('variance.show')}</Button></Group> : null}
      <Text size="sm" c="dimmed">{t('variance.method')}</Text>
    </>
  );
}
