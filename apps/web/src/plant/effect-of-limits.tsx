import { NativeSelect, Stack, Table, Text, Title } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import type { SpecificationEffect, SpecificationProposal } from '#contract/approvals';
import { useFormat } from '../shared/format.js';
import { QueryView } from '../shared/states.js';
import { useEffectOfLimits } from './approvals.queries.js';

const DAYS = [30, 90, 180, 365];

/** What other limits would have said about the past, stream by stream: before anybody approves them. */
export function EffectOfLimits({ proposal }: { proposal: SpecificationProposal }) {
  const { t } = useTranslation('portable');
  const [days, setDays] = useState(90);
  const effect = useEffectOfLimits(proposal, days);
  return (
    <Stack component="section" gap="xs" aria-labelledby="effect-title">
      <Title order={3} size="h5" id="effect-title">{t('approval.effect', { days })}</Title>
      <NativeSelect size="md" maw={160} label={t('approval.days')} value={String(days)} data={DAYS.map(String)} onChange={({ currentTarget }) => setDays(Number(currentTarget.value))} />
      <QueryView query={effect} what={t('approval.effectLoading')}>{(found) => <Found effect={found} />}</QueryView>
    </Stack>
  );
}

function Found({ effect }: { effect: SpecificationEffect }) {
  const { t } = useTranslation('portable');
  const format = useFormat();
  const { before, decimals, unit, streams } = effect;
  const index = (value: number | null) => (value === null ? t('approval.refused') : format.number(value, 2));
  const share = (value: number | null) => (value === null ? t('approval.noLimit') : t('approval.percent', { value: format.number(value * 100, 1) }));
  const both = (one: string, other: string) => t('approval.arrow', { before: one, after: other });
  return (
    <>
      <Text>{before ? t('approval.present', { low: format.withUnit(before.lsl, decimals, unit), high: format.withUnit(before.usl, decimals, unit), revision: before.revision }) : t('approval.absent')}</Text>
      {streams.length === 0 ? <Text>{t('approval.noReadings')}</Text> : (
        <Table.ScrollContainer minWidth={700}>
          <Table aria-labelledby="effect-title" verticalSpacing="xs">
            <Table.Thead><Table.Tr>{(['stream', 'readings', 'stable', 'cpk', 'ppk', 'below', 'above'] as const).map((head) => <Table.Th key={head} scope="col">{t(`approval.${head}`)}</Table.Th>)}</Table.Tr></Table.Thead>
            <Table.Tbody>{streams.map((stream) => (
              <Table.Tr key={stream.streamId}>
                <Table.Th scope="row">{[stream.machine, stream.machineUnit, stream.lane].filter(Boolean).join(' ')}</Table.Th>
                <Table.Td>{stream.readings}</Table.Td><Table.Td>{t(`approval.stability.${stream.stability}`)}</Table.Td>
                <Table.Td>{both(index(stream.before.cpk), index(stream.after.cpk))}</Table.Td><Table.Td>{both(index(stream.before.ppk), index(stream.after.ppk))}</Table.Td>
                <Table.Td>{both(share(stream.before.shareBelow), share(stream.after.shareBelow))}</Table.Td><Table.Td>{both(share(stream.before.shareAbove), share(stream.after.shareAbove))}</Table.Td>
              </Table.Tr>
            ))}</Table.Tbody>
          </Table>
        </Table.ScrollContainer>
      )}
      <Text size="sm" c="dimmed">{t('approval.caution')}</Text>
    </>
  );
}
