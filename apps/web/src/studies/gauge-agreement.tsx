import { Stack, Table, Text } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import type { GaugeResult } from '#contract/gauge-studies';
import { useFormat } from '../shared/format.js';

type Rated = NonNullable<GaugeResult['rated']>;
type Share = Rated['allAgree'];

/** How far people agree with the reference and with one another. */
export function GaugeAgreement({ rated }: { rated: Rated }) {
  const { t } = useTranslation('studyRecords');
  const format = useFormat();
  const share = (given: Share | null) => (given === null ? '–' : t('result.share', { found: given.found, of: given.of }));
  const rows = [...rated.againstStandard.map((one) => ({ ...one, name: t('result.reference', { rater: one.second }) })), ...rated.pairs.map((one) => ({ ...one, name: t('result.pair', { first: one.first, second: one.second }) }))];
  const { allAgree } = rated;
  return (
    <Stack gap="xs">
      <Table.ScrollContainer minWidth={760}>
        <Table>
          <Table.Caption>{t('result.agreement')}</Table.Caption>
          <Table.Thead><Table.Tr>{(['who', 'exact', 'within', 'kappa', 'kappaInterval', 'missed', 'falseAlarms'] as const).map((name) => <Table.Th key={name} scope="col">{t(`result.${name}`)}</Table.Th>)}</Table.Tr></Table.Thead>
          <Table.Tbody>
            {rows.map(({ name, exact, within, kappa, missed, falseAlarms }) => (
              <Table.Tr key={name}>
                <Table.Th scope="row">{name}</Table.Th><Table.Td>{share(exact)}</Table.Td><Table.Td>{share(within)}</Table.Td><Table.Td>{format.number(kappa.kappa, 3)}</Table.Td>
                <Table.Td>{kappa.low === null ? '–' : t('result.bounds', { low: format.number(kappa.low, 3), high: format.number(kappa.high, 3) })}</Table.Td><Table.Td>{share(missed)}</Table.Td><Table.Td>{share(falseAlarms)}</Table.Td>
              </Table.Tr>
            ))}
          </Table.Tbody>
        </Table>
      </Table.ScrollContainer>
      <Text>{t('result.all', { found: allAgree.found, of: allAgree.of, low: format.number(100 * allAgree.low, 0), high: format.number(100 * allAgree.high, 0) })}</Text>
      <Text size="sm" c="dimmed">{t('result.methodRated')}</Text>
    </Stack>
  );
}
