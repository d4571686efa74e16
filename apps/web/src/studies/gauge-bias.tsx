import { Stack, Table, Text, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import type { GaugePlan, GaugeResult } from '#contract/gauge-studies';
import { useFormat } from '../shared/format.js';

/** How far the gauge is off at each master, and how that changes over its range. */
export function GaugeBias({ plan, bias }: { plan: GaugePlan; bias: NonNullable<GaugeResult['bias']> }) {
  const { t } = useTranslation('studyRecords');
  const format = useFormat();
  const [decimals, percent] = [plan.decimals + 2, format.number(100 * plan.confidence, 0)];
  const number = (value: number | null) => (value === null ? '–' : format.number(value, decimals));
  return (
    <Stack component="section" gap="xs" aria-labelledby="gauge-bias">
      <Title order={2} size="h4" id="gauge-bias">{t('bias.title')}</Title>
      <Text maw={760}>{t(bias.unbiased ? 'bias.notShownText' : 'bias.shownText')}</Text>
      <Table.ScrollContainer minWidth={760}>
        <Table verticalSpacing="xs">
          <Table.Caption>{t('bias.caption', { unit: plan.unit, percent })}</Table.Caption>
          <Table.Thead><Table.Tr>{(['master', 'reference', 'n', 'bias', 'interval', 'sd', 'band', 'zero'] as const).map((name) => <Table.Th key={name} scope="col">{t(`bias.${name}`, { percent })}</Table.Th>)}</Table.Tr></Table.Thead>
          <Table.Tbody>{bias.masters.map((master) => (
            <Table.Tr key={master.part}>
              <Table.Th scope="row">{master.part}</Table.Th><Table.Td>{format.number(master.reference, plan.decimals)}</Table.Td><Table.Td>{master.n}</Table.Td><Table.Td>{number(master.bias)}</Table.Td>
              <Table.Td>{master.low === null || master.high === null ? '–' : t('bias.span', { low: number(master.low), high: number(master.high) })}</Table.Td><Table.Td>{number(master.sd)}</Table.Td>
              <Table.Td>{t('bias.span', { low: number(master.bandLow), high: number(master.bandHigh) })}</Table.Td><Table.Td>{t(master.zeroInside ? 'bias.inside' : 'bias.outside')}</Table.Td>
            </Table.Tr>
          ))}</Table.Tbody>
        </Table>
      </Table.ScrollContainer>
      <Text>{t('bias.line', { average: number(bias.averageBias), unit: plan.unit, slope: format.number(bias.slope, 4), low: format.number(bias.slopeLow, 4), high: format.number(bias.slopeHigh, 4), percent, p: bias.slopeP === null ? '–' : format.number(bias.slopeP, 4) })}</Text>
      <Text size="sm" c="dimmed">{t('bias.method')}</Text>
    </Stack>
  );
}
