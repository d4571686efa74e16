import { Badge, Button, Code, Group, Stack, Table, Text, TextInput, Title } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import type { CanCodePattern } from '#contract/can-codes';
import type { PlantTree } from '#contract/plant';
import { useFormat } from '../shared/format.js';
import { ProblemList } from '../shared/problem-list.js';
import { QueryView } from '../shared/states.js';
import { useStepWord } from '../shared/step-word.js';
import { CanCodeForm } from './can-code-form.js';
import { CanCodeVersions } from './can-code-versions.js';
import { useCanCodePatterns, useRetirePattern } from './can-codes.queries.js';

/** How each line writes its codes: every version, and a new one with its try-out. */
export function CanCodesSection({ tree, mayChange }: { tree: PlantTree; mayChange: boolean }) {
  const { t } = useTranslation('plant');
  const [adding, setAdding] = useState(false);
  return (
    <Stack gap="md">
      <Group justify="space-between"><Title order={2} size="h4">{t('setUp.sections.codes')}</Title>{mayChange && !adding ? <Button onClick={() => setAdding(true)}>{t('setUp.canCode.add')}</Button> : null}</Group>
      <Text c="dimmed" maw={900}>{t('setUp.canCode.text')}</Text>
      {adding ? <CanCodeForm lines={tree.lines} onClose={() => setAdding(false)} /> : null}
      <QueryView query={useCanCodePatterns()} what={t('setUp.canCode.loading')} isEmpty={({ patterns }) => patterns.length === 0} empty={<Text>{t('setUp.canCode.empty')}</Text>}>
        {({ patterns }) => <><Patterns patterns={patterns} mayChange={mayChange} /><CanCodeVersions patterns={patterns} /></>}
      </QueryView>
    </Stack>
  );
}

function Patterns({ patterns, mayChange }: { patterns: readonly CanCodePattern[]; mayChange: boolean }) {
  const { t } = useTranslation('plant');
  const format = useFormat();
  const stepWord = useStepWord();
  const [retiring, setRetiring] = useState<number>();
  const [reason, setReason] = useState('');
  const retire = useRetirePattern();
  return (
    <Table.ScrollContainer minWidth={760}>
      <Table striped verticalSpacing="xs">
        <Table.Thead><Table.Tr>{(['line', 'pattern', 'codedAt', 'clock', 'from', 'until', 'state', 'author'] as const).map((column) => <Table.Th key={column}>{t(`setUp.canCode.${column}`)}</Table.Th>)}{mayChange ? <Table.Th>{t('setUp.canCode.retire')}</Table.Th> : null}</Table.Tr></Table.Thead>
        <Table.Tbody>
          {patterns.map((row) => (
            <Table.Tr key={row.id}>
              <Table.Td>{row.line}</Table.Td><Table.Td><Code>{row.pattern}</Code></Table.Td><Table.Td>{stepWord(row.codedAtStepKind)}</Table.Td><Table.Td>{t('setUp.canCode.minutes', { minutes: row.clockMinutes })}</Table.Td>
              <Table.Td>{format.dateTime(row.effectiveFrom)}</Table.Td><Table.Td>{row.effectiveUntil === null ? '–' : format.dateTime(row.effectiveUntil)}</Table.Td><Table.Td><Badge variant="outline" color="gray" tt="none">{t(`setUp.canCode.states.${row.state}`)}</Badge></Table.Td><Table.Td>{row.author}</Table.Td>
              {mayChange ? (
                <Table.Td>
                  {row.state !== 'in-force' && row.state !== 'planned' ? null : retiring === row.id ? (
                    <Stack gap={4}>
                      <TextInput size="sm" label={t('setUp.reason')} value={reason} onChange={({ currentTarget: { value } }) => setReason(value)} />
                      <ProblemList error={retire.error} />
                      <Group gap={4}><Button size="xs" disabled={reason.trim().length < 3} loading={retire.isPending} onClick={() => retire.mutate({ id: row.id, reason }, { onSuccess: () => { setRetiring(undefined); setReason(''); } })}>{t('setUp.canCode.retire')}</Button><Button size="xs" variant="default" onClick={() => setRetiring(undefined)}>{t('setUp.cancel')}</Button></Group>
                    </Stack>
                  ) : <Button size="xs" variant="default" aria-label={t('setUp.canCode.retireOf', { line: row.line })} onClick={() => setRetiring(row.id)}>{t('setUp.canCode.retire')}</Button>}
                </Table.Td>
              ) : null}
            </Table.Tr>
          ))}
        </Table.Tbody>
      </Table>
    </Table.ScrollContainer>
  );
}
