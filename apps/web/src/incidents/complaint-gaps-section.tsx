import { Group, NativeSelect, Stack, Table, Text, Title } from '@mantine/core';
import { useMemo } from 'react';
import { useTranslation } from 'react-i18next';
import type { ComplaintGaps } from '#contract/incident-life';
import { useFormat } from '../shared/format.js';
import { Plot } from '../shared/plot.js';
import { StateBadge } from '../shared/state-badge.js';
import { QueryView } from '../shared/states.js';
import { gapsFigure } from './gaps.figure.js';
import { useGaps } from './incident-life.queries.js';
import { ALPHAS, type ParetoView } from './pareto.url.js';

/** Rare complaints are judged by what lies between them. One customer and one line: cans of others are no opportunity for their complaint. */
export function ComplaintGapsSection({ view, onAlpha }: { view: ParetoView; onAlpha: (alpha: string) => void }) {
  const { t } = useTranslation('incidentLife');
  return (
    <section>
      <Title order={2} size="h4" pb="xs">{t('gaps.title')}</Title>
      <Text maw={820}>{t('gaps.intro')}</Text>
      {view.customer === undefined || view.line === undefined ? <Text pt="sm" fw={600}>{t('gaps.choose')}</Text> : (
        <Stack gap="sm" pt="sm">
          <Group className="no-print"><NativeSelect size="md" label={t('gaps.alpha')} value={view.alpha} data={ALPHAS.map((value) => ({ value, label: t(`gaps.alphas.${value}`) }))} onChange={({ currentTarget: { value } }) => onAlpha(value)} /></Group>
          <Gaps customer={view.customer} lineId={view.line} alpha={Number(view.alpha)} />
        </Stack>
      )}
    </section>
  );
}

function Gaps({ customer, lineId, alpha }: { customer: string; lineId: number; alpha: number }) {
  const { t } = useTranslation('incidentLife');
  return (
    <QueryView query={useGaps({ customer, lineId, alpha })} what={t('gaps.loading')} isEmpty={({ gaps }) => gaps.length === 0} empty={<Text>{t('gaps.noComplaints')}</Text>}>
      {(data) => <ShownGaps data={data} />}
    </QueryView>
  );
}

function ShownGaps({ data }: { data: ComplaintGaps }) {
  const { t } = useTranslation('incidentLife');
  const format = useFormat();
  const counted = data.gaps.filter(({ cans }) => cans !== null).length;
  const anyMissing = counted < data.gaps.length;
  return (
    <Stack gap="sm">
      <Text>{data.countedAt.length === 0 ? t('gaps.notCounted') : t('gaps.counted', { machines: data.countedAt.join(', ') })}{data.few && counted > 0 ? ` ${t('gaps.few', { count: counted })}` : ''}</Text>
      {data.since ? <Text>{t('gaps.since', { cans: format.number(data.since.cans, 0), until: format.dateTime(data.since.until) })}</Text> : null}
      {data.cansChart ? <Chart title={t('gaps.cansChart')} axis={t('gaps.cansAxis')} decimals={0} values={data.gaps.map(({ cans }) => cans)} lines={data.cansChart} gaps={data.gaps} /> : <Text fw={600}>{t('gaps.tooFew')}</Text>}
      {anyMissing ? <Text fw={600}>{t('gaps.daysInstead')}</Text> : null}
      {data.daysChart && (anyMissing || data.cansChart === null) ? <Chart title={t('gaps.daysChart')} axis={t('gaps.daysAxis')} decimals={1} values={data.gaps.map(({ days }) => days)} lines={data.daysChart} gaps={data.gaps} /> : null}
      <GapTable data={data} />
      <Text size="sm" c="dimmed">{t('gaps.holes')}</Text>
    </Stack>
  );
}

function Chart({ title, axis, decimals, values, lines, gaps }: { title: string; axis: string; decimals: number; values: readonly (number | null)[]; lines: NonNullable<ComplaintGaps['cansChart']>; gaps: ComplaintGaps['gaps'] }) {
  const { t } = useTranslation('incidentLife');
  const format = useFormat();
  const number = (value: number | null) => (value === null ? t('gaps.none') : format.number(value, decimals));
  const figure = useMemo(() => {
    const figures = (value: number | null) => (value === null ? '' : format.number(value, decimals));
    return gapsFigure(values, gaps.map(({ fromId, toId }, index) => `${t('gaps.between', { from: fromId, to: toId })}: ${figures(values[index] ?? null)} ${axis}`), lines, { lower: `${t('gaps.lower')} ${figures(lines.lower)}`, centre: `${t('gaps.centre')} ${figures(lines.centre)}`, upper: `${t('gaps.upper')} ${figures(lines.upper)}`, axis, out: t('gaps.short') });
  }, [values, gaps, lines, axis, decimals, format, t]);
  return (
    <div>
      <Title order={3} size="h5">{title}</Title>
      <Text size="sm">{t('gaps.lines', { lower: number(lines.lower), centre: number(lines.centre), upper: number(lines.upper) })}</Text>
      <Plot figure={figure} label={t('gaps.plot', { title })} height={280} />
    </div>
  );
}

function GapTable({ data }: { data: ComplaintGaps }) {
  const { t } = useTranslation('incidentLife');
  const format = useFormat();
  const verdict = (index: number, cans: number | null) => {
    const chart = cans === null || data.cansChart === null ? data.daysChart : data.cansChart;
    if (chart === null) return <StateBadge state="not-judged" word={t('gaps.notOut')} />;
    const side = chart.out.find((point) => point.index === index)?.side;
    return <StateBadge state={side === undefined ? 'steady' : 'signal'} word={side === undefined ? t('gaps.within') : side === 'below' ? t('gaps.short') : t('gaps.long')} />;
  };
  return (
    <Table.ScrollContainer minWidth={760}>
      <Table verticalSpacing="xs">
        <Table.Caption>{t('gaps.caption')}</Table.Caption>
        <Table.Thead><Table.Tr>{(['gap', 'made', 'cans', 'days', 'verdict'] as const).map((head) => <Table.Th key={head} scope="col">{t(`gaps.${head}`)}</Table.Th>)}</Table.Tr></Table.Thead>
        <Table.Tbody>
          {data.gaps.map(({ fromId, toId, from, to, cans, days, missing, longestHoleHours }, index) => (
            <Table.Tr key={toId}>
              <Table.Th scope="row">{t('gaps.between', { from: fromId, to: toId })}</Table.Th>
              <Table.Td>{t('gaps.span', { from: format.dateTime(from), to: format.dateTime(to) })}</Table.Td>
              <Table.Td>{cans === null ? (missing === null ? '–' : t(`gaps.missing.${missing}`)) : format.number(cans, 0)}{cans === null ? null : <Text size="xs" c="dimmed">{t('gaps.hole', { hours: format.number(longestHoleHours, 0) })}</Text>}</Table.Td>
              <Table.Td>{format.number(days, 1)}</Table.Td>
              <Table.Td>{verdict(index, cans)}</Table.Td>
            </Table.Tr>
          ))}
        </Table.Tbody>
      </Table>
    </Table.ScrollContainer>
  );
}
