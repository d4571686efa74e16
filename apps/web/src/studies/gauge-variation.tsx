import { Stack, Table, Text } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import type { GaugePlan, GaugeResult } from '#contract/gauge-studies';
import { useFormat } from '../shared/format.js';
import { fineDecimals } from './study-words.js';

/** Where the variation comes from, each source with its interval, and how many categories the gauge can tell apart. */
export function GaugeVariation({ plan, result, measured }: { plan: GaugePlan; result: GaugeResult; measured: NonNullable<GaugeResult['measured']> }) {
  const { t } = useTranslation('studyRecords');
  const format = useFormat();
  const digits = fineDecimals(plan.decimals);
  const percent = (share: number | null) => (share === null ? '–' : format.number(100 * share, 1));
  const bounds = (given: { low: number; high: number } | null, show: (value: number) => string) => (given === null ? '–' : t('result.bounds', { low: show(given.low), high: show(given.high) }));
  const confidence = format.number(100 * plan.confidence, 0);
  const interval = measured.categoriesInterval;
  return (
    <Stack gap="xs">
      <Table.ScrollContainer minWidth={820}>
        <Table>
          <Table.Caption>{t('result.table')}</Table.Caption>
          <Table.Thead><Table.Tr>
            <Table.Th scope="col">{t('result.source')}</Table.Th><Table.Th scope="col">{t('result.sd', { unit: plan.unit })}</Table.Th><Table.Th scope="col">{t('result.interval', { percent: confidence })}</Table.Th>
            <Table.Th scope="col">{t('result.ofVariance')}</Table.Th><Table.Th scope="col">{t('result.ofStudy')}</Table.Th><Table.Th scope="col">{t('result.ofTolerance')}</Table.Th><Table.Th scope="col">{t('result.toleranceInterval', { percent: confidence })}</Table.Th>
          </Table.Tr></Table.Thead>
          <Table.Tbody>
            {measured.rows.map((row) => (
              <Table.Tr key={row.source}>
                <Table.Th scope="row">{t(`result.sources.${row.source}`)}</Table.Th><Table.Td>{format.number(row.sd, digits)}</Table.Td><Table.Td>{bounds(row.interval, (value) => format.number(value, digits))}</Table.Td>
                <Table.Td>{percent(row.ofVariance)}</Table.Td><Table.Td>{percent(row.ofStudy)}</Table.Td><Table.Td>{percent(row.ofTolerance)}</Table.Td><Table.Td>{bounds(row.ofToleranceInterval, percent)}</Table.Td>
              </Table.Tr>
            ))}
          </Table.Tbody>
        </Table>
      </Table.ScrollContainer>
      <Text>{t('result.categories', { value: measured.categories ?? t('result.noCategories'), low: interval?.low ?? t('result.noCategories'), high: interval?.high ?? t('result.open2') })}</Text>
      {result.tolerance === null ? null : <Text>{t('result.toleranceIs', { tolerance: format.number(result.tolerance, plan.decimals), unit: plan.unit })}</Text>}
      {measured.byRanges ? <Text>{t('result.byRanges', { sd: format.number(measured.byRanges.gaugeSd, digits), unit: plan.unit, study: percent(measured.byRanges.ofStudy) })}</Text> : null}
      <Text size="sm" c="dimmed">{t('result.method')}</Text>
    </Stack>
  );
}
