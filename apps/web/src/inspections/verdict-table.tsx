import { Anchor, Button, Table, Text } from '@mantine/core';
import { type ReactNode, useState } from 'react';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import type { SubgroupVerdict } from '#contract/inspections';
import { type Format, useFormat } from '../shared/format.js';
import { StateBadge } from '../shared/state-badge.js';

/** Signals first: what asks for a look must not be found by scrolling. */
const ORDER = { signal: 0, 'not-judged': 1, steady: 2 } as const;

/** Up to so many streams are all listed at once; of more, only those that ask for a look. */
const SHORT = 8;

/** Each stream of one check: state, statistics, limits, what a rule saw in words; its chart on demand, open where it signals. */
export function VerdictTable({ subgroups, chart }: { subgroups: readonly SubgroupVerdict[]; chart?: (streamId: number, label: string) => ReactNode }) {
  const { t } = useTranslation('inspections');
  const sorted = [...subgroups].sort((a, b) => ORDER[a.status] - ORDER[b.status]);
  const signalling = sorted.filter((entry) => entry.status === 'signal').slice(0, 3).map((entry) => entry.streamId);
  const [shown, setShown] = useState<ReadonlySet<number>>(new Set(signalling));
  const calm = sorted.length <= SHORT ? [] : sorted.filter((entry) => entry.status !== 'signal' && entry.outsideSpecification === 0);
  const [all, setAll] = useState(false);
  const listed = all ? sorted : sorted.filter((entry) => !calm.includes(entry));
  const toggle = (id: number) => setShown((before) => { const next = new Set(before); if (!next.delete(id)) next.add(id); return next; });
  return (
    <div>
      {listed.length === 0 ? null : (
        <Table.ScrollContainer minWidth={720}>
          <Table verticalSpacing="xs">
            <Table.Thead>
              <Table.Tr>{(['stream', 'state', 'mean', 'range', 'n', 'limits', 'said'] as const).map((head) => <Table.Th key={head} scope="col">{t(`verdict.${head}`)}</Table.Th>)}{chart ? <Table.Td /> : null}</Table.Tr>
            </Table.Thead>
            <Table.Tbody>{listed.map((entry) => <Rows key={entry.streamId} entry={entry} chart={chart} open={shown.has(entry.streamId)} onToggle={() => toggle(entry.streamId)} />)}</Table.Tbody>
          </Table>
        </Table.ScrollContainer>
      )}
      {calm.length === 0 ? null : <Button variant="default" mt="xs" aria-expanded={all} onClick={() => setAll(!all)}>{all ? t('verdict.fewer') : t('verdict.all', { steady: calm.filter((entry) => entry.status === 'steady').length, notJudged: calm.filter((entry) => entry.status === 'not-judged').length })}</Button>}
    </div>
  );
}

function Rows({ entry, chart, open, onToggle }: { entry: SubgroupVerdict; chart: ((streamId: number, label: string) => ReactNode) | undefined; open: boolean; onToggle: () => void }) {
  const { t } = useTranslation('inspections');
  const format = useFormat();
  const label = [entry.characteristicName, entry.machineUnit === null ? null : t('verdict.unit', { unit: entry.machineUnit }), entry.lane === null ? null : t('verdict.lane', { lane: entry.lane })].filter((part) => part !== null).join(', ');
  return (
    <>
      <Table.Tr>
        <Table.Th scope="row">{label}{entry.formula === null ? null : <Text size="xs" c="dimmed">{t('verdict.formula', { formula: entry.formula })}</Text>}</Table.Th>
        <Table.Td><StateBadge state={entry.status} /></Table.Td>
        <Table.Td>{format.withUnit(entry.mean, entry.decimals + 1, entry.unit)}</Table.Td>
        <Table.Td>{format.withUnit(entry.range, entry.decimals + 1, entry.unit)}</Table.Td>
        <Table.Td>{entry.n}</Table.Td>
        <Table.Td>{limitsText(entry, format, t('verdict.noLimits'), (lower, upper) => t('verdict.between', { lower, upper }))}</Table.Td>
        <Table.Td><Words entry={entry} /></Table.Td>
        {chart ? <Table.Td><Button variant="subtle" onClick={onToggle} aria-expanded={open} aria-label={`${open ? t('verdict.hideChart') : t('verdict.showChart')}: ${label}`}>{open ? t('verdict.hideChart') : t('verdict.showChart')}</Button></Table.Td> : null}
      </Table.Tr>
      {chart && open ? <Table.Tr><Table.Td colSpan={8}>{chart(entry.streamId, t('verdict.chartOf', { stream: label }))}</Table.Td></Table.Tr> : null}
    </>
  );
}

function limitsText({ limits, decimals, unit }: SubgroupVerdict, format: Format, none: string, between: (lower: string, upper: string) => string): string {
  return limits === null ? none : between(format.number(limits.lower, decimals + 1), format.withUnit(limits.upper, decimals + 1, unit));
}

/** The verdict as sentences: what each rule saw, then what lies outside the specification, which is another matter. */
function Words({ entry }: { entry: SubgroupVerdict }) {
  const { t } = useTranslation('inspections');
  const plain = entry.mean === null ? t('verdict.noReading') : entry.status === 'steady' ? t('verdict.steadyWords') : entry.status === 'not-judged' ? t('verdict.notJudgedWords') : null;
  return (
    <>
      {plain === null ? null : <Text size="sm">{plain}</Text>}
      {entry.firings.map((firing) => (
        <Text size="sm" key={`${firing.chart}/${firing.rule}/${firing.side}`}>
          {firing.chart === 'spread' ? t(`rule.spread.${firing.side}`) : t(`rule.mean.${firing.rule}.${firing.side}`)}{' '}
          <Anchor component={Link} underline="always" to={`/signals/${firing.signalId}`}>{t('verdict.openSignal', { id: firing.signalId })}</Anchor>
        </Text>
      ))}
      {entry.outsideSpecification === 0 ? null : <Text size="sm" fw={600}>{t('verdict.outside', { count: entry.outsideSpecification })}</Text>}
    </>
  );
}
