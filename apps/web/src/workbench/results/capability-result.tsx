import { Group, Stack, Table, Text } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import type { AnswerOf } from '#contract/endpoint';
import type { capabilityIndices, fractionOutside } from '#contract/workbench/capability';
import { StateBadge } from '../../shared/state-badge.js';
import type { Choices } from '../choices.js';
import { ComputationView } from '../compute/computation-view.js';
import type { FormedData } from '../form/form-data.js';
import type { Ground } from './panel-words.js';
import { signalGroups } from './signal-groups.js';
import type { DistributionAnswers } from './use-distribution.js';
import type { ChartAnswer } from './workbench-chart.figure.js';

type Props = { data: FormedData; chart: ChartAnswer | undefined; distribution: DistributionAnswers; choices: Choices; ground: Ground };

/** Whether the process was steady first, then the figures that take it to be. */
export function CapabilityResult({ data, chart, distribution, choices, ground }: Props) {
  const { t } = useTranslation('workbench');
  const { capability, fraction, bodies, readings } = distribution;
  if (data.type === 'counts' || data.type === 'events') return <Text>{t('capability.counts')}</Text>;
  if (data.products) return <Text>{t('capability.several')}</Text>;
  if (bodies.capability === null && bodies['fraction-nonconforming'] === null) return <Text>{t((readings?.length ?? 0) < 2 ? 'capability.fewReadings' : 'capability.noLimits')}</Text>;
  const points = data.type === 'subgroups' ? data.subgroups.length : data.values.length;
  return (
    <Stack gap="sm">
      {chart ? <Stability chart={chart} /> : null}
      {data.readings < 100 && points < 25 ? <Text size="sm">{t('capability.few')}</Text> : null}
      {bodies.capability === null
        ? <Text>{t('capability.noIndex')}</Text>
        : <ComputationView computation={capability} what={t('capability.what')}>{(answer) => <Indices answer={answer} ground={ground} />}</ComputationView>}
      {bodies['fraction-nonconforming'] === null ? null : <ComputationView computation={fraction} what={t('capability.what')}>{(answer) => <Fraction answer={answer} confidence={choices.confidence} ground={ground} />}</ComputationView>}
    </Stack>
  );
}

function Stability({ chart: { panels } }: { chart: ChartAnswer }) {
  const { t } = useTranslation('workbench');
  const count = signalGroups(panels).length;
  if (panels.every(({ rules }) => rules.length === 0)) return <div role="status"><StateBadge state="not-judged" word={t('capability.not-judged')} /><Text size="sm">{t('capability.notJudgedText')}</Text></div>;
  if (count === 0) return <div role="status"><StateBadge state="steady" word={t('capability.stable')} /></div>;
  return <div role="status"><StateBadge state="signal" word={t('capability.not-stable')} /><Text size="sm">{t('capability.notStableText', { count })}</Text></div>;
}

const INDICES = ['cp', 'cpk', 'pp', 'ppk', 'cpm'] as const;

function Indices({ answer, ground: { format, decimals, unit } }: { answer: AnswerOf<typeof capabilityIndices>; ground: Ground }) {
  const { t } = useTranslation('workbench');
  const percent = percentOf(answer.confidence);
  const length = (value: number | null) => (unit === '' ? format.number(value, decimals + 2) : format.withUnit(value, decimals + 2, unit));
  const ppm = (value: number | null) => (value === null ? t('capability.none') : format.number(value, value >= 100 ? 0 : 2));
  const shown = INDICES.filter((name) => answer[name] !== null || name === 'ppk' || name === 'cpk');
  const { below, above } = answer.expectedPpm.overall;
  return (
    <>
      <Table.ScrollContainer minWidth={520}>
        <Table>
          <Table.Caption>{t('capability.shown', { percent })}</Table.Caption>
          <Table.Thead><Table.Tr>{(['figure', 'value', 'between', 'meaning'] as const).map((name) => <Table.Th key={name} scope="col">{t(`capability.${name}`)}</Table.Th>)}</Table.Tr></Table.Thead>
          <Table.Tbody>
            {shown.map((name) => {
              const between = answer.intervals[name];
              const bound = name === 'ppk' ? answer.ppkLowerBound : name === 'cpm' ? answer.cpmLowerBound : null;
              return (
                <Table.Tr key={name}>
                  <Table.Th scope="row">{t(`capability.indices.${name}`)}</Table.Th><Table.Td><Text fw={700}>{answer[name] === null ? t('capability.undefinedValue') : format.number(answer[name], 2)}</Text></Table.Td>
                  <Table.Td>{between ? t('capability.interval', { low: format.number(between.low, 2), high: format.number(between.high, 2) }) : '–'}{bound === null ? null : <Text size="xs">{t('capability.bound', { percent, value: format.number(bound, 2) })}</Text>}</Table.Td>
                  <Table.Td>{t(`capability.meanings.${name}`)}</Table.Td>
                </Table.Tr>
              );
            })}
          </Table.Tbody>
        </Table>
      </Table.ScrollContainer>
      <Group gap="lg">{([['mean', answer.mean], ['sdWithin', answer.sdWithin], ['sdOverall', answer.sdOverall]] as const).map(([name, value]) => <div key={name}><Text size="sm" c="dimmed">{t(`capability.${name}`)}</Text><Text fw={600}>{length(value)}</Text></div>)}</Group>
      {answer.exactOneSided ? <Text size="sm">{t('capability.exact', { percent, low: format.number(answer.exactOneSided.low, 2), high: format.number(answer.exactOneSided.high, 2) })}</Text> : null}
      {answer.withinGap ? <Text size="sm">{t(`capability.gaps.${answer.withinGap}`)}</Text> : null}
      <Text size="sm">{t('capability.expected', { below: ppm(below), above: ppm(above) })}</Text>
    </>
  );
}

function Fraction({ answer: { n, below, above, outside }, confidence, ground: { format } }: { answer: AnswerOf<typeof fractionOutside>; confidence: number; ground: Ground }) {
  const { t } = useTranslation('workbench');
  const share = (value: number) => format.number(value * 100, value > 0 && value < 0.001 ? 4 : 2);
  return <><Text>{t('capability.outside', { found: (below ?? 0) + (above ?? 0), n, share: share(outside.fraction), percent: percentOf(confidence), bound: share(outside.upperBound) })}</Text><Text size="sm" c="dimmed">{t('capability.outsideNote')}</Text></>;
}

/** 0.95 as "95", 0.975 as "97.5". */
export const percentOf = (confidence: number): string => String(Math.round(confidence * 1000) / 10);
