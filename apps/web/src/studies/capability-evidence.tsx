import { Anchor, List, Paper, Stack, Table, Text, Title } from '@mantine/core';
import type { ReactNode } from 'react';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import type { CapabilityEntry, CapabilityStudy } from '#contract/studies';
import { useFormat } from '../shared/format.js';
import { studies as catalogue } from '../shared/messages/en/studies.js';
import { MeasurementStanding } from './measurement-standing.js';
import { rowName } from './study-words.js';

const has = <Key extends string>(known: Readonly<Record<Key, unknown>>, name: string): name is Key => Object.hasOwn(known, name);

/** What stands beside the figures: cautions, signals, specification, gauges, method. */
export function CapabilityEvidence({ study }: { study: CapabilityStudy }) {
  const { t } = useTranslation('studies');
  const all = study.pooled ?? study.streams[0];
  if (!all) return null;
  return (
    <Stack gap="md">
      <Block title={t('cautions.title')}><List>{study.cautions.map((caution) => <List.Item key={caution}>{t(`cautions.${caution}`)}</List.Item>)}</List></Block>
      <Block title={t('signals.title')} long><Signals study={study} signals={all.stability.signals} /></Block>
      <Block title={t('specification.title')}><Specification study={study} /></Block>
      <Block title={t('gauges.title')}><Gauges entry={all} /><MeasurementStanding measurement={study.measurement} /></Block>
      <Block title={t('method.title')}>
        <List>{(['index', 'intervals', 'share', all.basis === 'can' ? 'basisCan' : 'basisReading', 'normality'] as const).map((name) => <List.Item key={name}>{t(`method.${name}`)}</List.Item>)}</List>
      </Block>
    </Stack>
  );
}

/** A long block may run over pages; its rows may not. */
function Block({ title, long = false, children }: { title: string; long?: boolean; children: ReactNode }) {
  return <Paper withBorder p="md" component="section" className={long ? 'study-rows' : 'study-block'}><Title order={2} size="h4" mb="xs">{title}</Title>{children}</Paper>;
}

function Signals({ study, signals }: { study: CapabilityStudy; signals: CapabilityEntry['stability']['signals'] }) {
  const { t } = useTranslation('studies');
  const format = useFormat();
  const { rules, sides, states } = catalogue.signals;
  if (signals.length === 0) return <Text>{t('signals.none')}</Text>;
  const named = (streamId: number) => study.streams.filter((entry) => entry.streamId === streamId).map((entry) => rowName(t, entry)).join();
  return (
    <Table.ScrollContainer minWidth={700}>
      <Table>
        <Table.Thead><Table.Tr>{(['signal', 'stream', 'rule', 'first', 'last', 'state', 'cause'] as const).map((name) => <Table.Th key={name} scope="col">{t(`signals.${name}`)}</Table.Th>)}</Table.Tr></Table.Thead>
        <Table.Tbody>
          {signals.map(({ id, streamId, rule, side, state, firstAt, lastAt, cause }) => (
            <Table.Tr key={id}>
              <Table.Th scope="row" className="no-wrap"><Anchor component={Link} to={`/signals/${id}`}>{t('signals.id', { id })}</Anchor></Table.Th>
              <Table.Td>{named(streamId)}</Table.Td>
              <Table.Td>{t('signals.seen', { rule: has(rules, rule) ? t(`signals.rules.${rule}`) : rule, side: has(sides, side) ? t(`signals.sides.${side}`) : side })}</Table.Td>
              <Table.Td>{format.dateTime(firstAt)}</Table.Td>
              <Table.Td>{format.dateTime(lastAt)}</Table.Td>
              <Table.Td>{has(states, state) ? t(`signals.states.${state}`) : state}</Table.Td>
              <Table.Td>{cause ?? t('signals.noCause')}</Table.Td>
            </Table.Tr>
          ))}
        </Table.Tbody>
      </Table>
    </Table.ScrollContainer>
  );
}

function Specification({ study: { specification: { used, revisions }, characteristic: { unit, decimals } } }: { study: CapabilityStudy }) {
  const { t } = useTranslation('studies');
  const format = useFormat();
  const limit = (value: number | null) => (value === null ? t('specification.absent') : format.number(value, decimals));
  if (revisions.length === 0) return <Text>{t('specification.none')}</Text>;
  return (
    <List>
      {revisions.map((entry) => (
        <List.Item key={entry.id}>
          {t('specification.revision', { revision: entry.revision, from: format.date(entry.effectiveFrom), lsl: limit(entry.lsl), target: limit(entry.target), usl: limit(entry.usl), unit })}
          {revisions.length > 1 ? <Text size="sm">{entry.id === used?.id ? t('specification.used') : t('specification.replaced')}</Text> : null}
        </List.Item>
      ))}
    </List>
  );
}

function Gauges({ entry: { gauges, formulas, withoutGauge } }: { entry: CapabilityEntry }) {
  const { t } = useTranslation('studies');
  const format = useFormat();
  return (
    <List>
      {formulas.map((formula) => <List.Item key={formula}>{t('gauges.formula', { formula })}</List.Item>)}
      {gauges.map(({ id, code, name, resolution, unit, subgroups, calibrationDue, overdue }) => (
        <List.Item key={id}>
          {t('gauges.entry', { code, name, resolution, unit, count: subgroups })}
          {calibrationDue ? <Text size="sm">{t('gauges.due', { date: format.date(calibrationDue) })}</Text> : null}
          {overdue > 0 ? <Text size="sm" fw={600}>{t('gauges.overdue', { count: overdue })}</Text> : null}
        </List.Item>
      ))}
      {withoutGauge > 0 ? <List.Item>{gauges.length === 0 ? t('gauges.none') : t('gauges.unknown', { count: withoutGauge })}</List.Item> : null}
    </List>
  );
}
