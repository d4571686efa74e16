import { Button, List, Table, Text } from '@mantine/core';
import { useMemo } from 'react';
import { useTranslation } from 'react-i18next';
import { StateBadge } from '../../shared/state-badge.js';
import { type Ground, saysOf } from './panel-words.js';
import { flaggedPoints, type SignalGroup, signalGroups } from './signal-groups.js';
import { groupSentence } from './signal-sentence.js';
import type { ChartAnswer } from './workbench-chart.figure.js';

const MOST = 100;

/** Every signal in words, in order of time, each leading to its point on the chart. */
export function SignalsResult({ answer, ground, onSelect }: { answer: ChartAnswer; ground: Ground; onSelect: (index: number) => void }) {
  const { t } = useTranslation('workbench');
  const { panels } = answer;
  const groups = useMemo(() => signalGroups(panels), [panels]);
  const points = panels[0]?.points.filter((value) => value !== null).length ?? 0;
  const where = ({ first, last }: SignalGroup) => (first === last ? t('signals.onePoint', { first: first + 1 }) : t('signals.points', { first: first + 1, last: last + 1 }));
  if (panels.every(({ rules }) => rules.length === 0)) return <Text>{t('signals.noRules')}</Text>;
  return (
    <>
      {groups.length === 0
        ? <div role="status"><StateBadge state="steady" word={t('signals.none', { points })} /><Text size="sm">{t('signals.noneMeans')}</Text></div>
        : <Text role="status" component="div"><StateBadge state="signal" word={t('signals.count', { count: groups.length, flagged: flaggedPoints(panels), points })} /></Text>}
      {groups.length === 0 ? null : (
        <Table.ScrollContainer minWidth={560} maxHeight={420}>
          <Table stickyHeader>
            {groups.length > MOST ? <Table.Caption>{t('signals.most', { count: MOST })}</Table.Caption> : null}
            <Table.Thead><Table.Tr>{([t('signals.where'), t('signals.panel'), t('signals.what'), t('signals.show')]).map((heading) => <Table.Th key={heading} scope="col">{heading}</Table.Th>)}</Table.Tr></Table.Thead>
            <Table.Tbody>
              {groups.slice(0, MOST).map((group) => {
                const panel = panels[group.panel];
                return panel ? (
                  <Table.Tr key={`${group.panel}/${group.rule}/${group.side}/${group.fired}`}>
                    <Table.Th scope="row">{where(group)}</Table.Th><Table.Td>{t(`chart.statistic.${panel.statistic}`)}</Table.Td><Table.Td>{groupSentence(t, group, panel, saysOf(panel, ground))}</Table.Td>
                    <Table.Td><Button variant="default" size="xs" aria-label={t('signals.showPoint', { point: group.last + 1 })} onClick={() => onSelect(group.last)}>{t('signals.show')}</Button></Table.Td>
                  </Table.Tr>
                ) : null;
              })}
            </Table.Tbody>
          </Table>
        </Table.ScrollContainer>
      )}
      <Further answer={answer} ground={ground} />
    </>
  );
}

/** What the sums and the heads say besides. */
function Further({ answer: { cusum, group }, ground: { format, decimals, unit } }: { answer: ChartAnswer; ground: Ground }) {
  const { t } = useTranslation('workbench');
  const shifts = (cusum?.signals ?? []).map(({ index, side, from, mean, shift }) => ({ key: `${side}${index}`, words: t(`signals.shift.${side}`, { from: from + 1, mean: unit === '' ? format.number(mean, decimals + 1) : format.withUnit(mean, decimals + 1, unit), shift: format.number(Math.abs(shift), 2) }) }));
  const runs = (group?.runs ?? []).map(({ index, head, side, length }) => ({ key: `run${side}${index}`, words: t(`signals.head.${side}`, { head, count: length }) }));
  const beyond = (group?.beyond ?? []).map(({ index, head, side }) => ({ key: `${side}${index}${head}`, words: `${t('chart.read.point', { number: index + 1 })}: ${t(`signals.headBeyond.${side}`, { head })}` }));
  const lines = [...shifts, ...runs, ...beyond].slice(0, MOST);
  return lines.length === 0 ? null : <List size="sm">{lines.map(({ key, words }) => <List.Item key={key}>{words}</List.Item>)}</List>;
}
