import { Group, NativeSelect, Stack, Table, Text, Title } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import type { TFunction } from 'i18next';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { type CheckPlanRevision, listCheckPlanRevisions, type PlannedSheet, plannedSheet } from '#contract/check-plans';
import type { PlantTree } from '#contract/plant';
import { useFormat } from '../shared/format.js';
import { call } from '../shared/http.js';
import { QueryView } from '../shared/states.js';

const FIELDS = plannedSheet.keyof().options;

/** Two states of a check plan side by side, with who wrote them, when and why. */
export function PlanRevisions({ plans }: { plans: PlantTree['checkPlans'] }) {
  const { t } = useTranslation('floor');
  const [planId, setPlanId] = useState<number | null>(null);
  const plan = plans.find(({ id }) => id === planId);
  if (plans.length === 0) return null;
  return (
    <Stack gap="sm" mt="lg">
      <NativeSelect size="md" maw={420} label={t('plan.choose')} value={String(planId ?? '')} onChange={(event) => setPlanId(Number(event.currentTarget.value) || null)} data={[{ value: '', label: '–' }, ...plans.map(({ id, name }) => ({ value: String(id), label: name }))]} />
      {plan ? <Revisions key={`${plan.id}/${plan.revision}`} plan={plan} /> : null}
    </Stack>
  );
}

function Revisions({ plan }: { plan: PlantTree['checkPlans'][number] }) {
  const { t } = useTranslation('floor');
  const query = useQuery({ queryKey: ['check-plan-revisions', plan.id, plan.revision], queryFn: ({ signal }) => call(listCheckPlanRevisions, { params: { id: plan.id }, signal }) });
  return <QueryView query={query} what={t('plan.historyLoading')}>{({ revisions }) => <SideBySide name={plan.name} revisions={revisions} />}</QueryView>;
}

function SideBySide({ name, revisions }: { name: string; revisions: readonly CheckPlanRevision[] }) {
  const { t } = useTranslation('floor');
  const format = useFormat();
  const [left, setLeft] = useState(revisions[1]?.revision ?? revisions[0]?.revision ?? 1);
  const [right, setRight] = useState(revisions[0]?.revision ?? 1);
  const [before, after] = [revisions.find(({ revision }) => revision === left), revisions.find(({ revision }) => revision === right)];
  const options = revisions.map(({ revision, at }) => ({ value: String(revision), label: t('plan.revision', { revision, at: format.dateTime(at) }) }));
  if (!before || !after) return null;
  return (
    <section aria-labelledby="plan-history">
      <Title order={3} size="h4" id="plan-history">{t('plan.history', { name })}</Title>
      <Group my="sm">
        <NativeSelect size="md" label={t('plan.left')} value={String(left)} data={options} onChange={(event) => setLeft(Number(event.currentTarget.value))} />
        <NativeSelect size="md" label={t('plan.right')} value={String(right)} data={options} onChange={(event) => setRight(Number(event.currentTarget.value))} />
      </Group>
      <Table.ScrollContainer minWidth={560}>
        <Table aria-labelledby="plan-history">
          <Table.Thead><Table.Tr><Table.Th scope="col">{t('plan.field')}</Table.Th><Table.Th scope="col">{t('plan.revision', { revision: before.revision, at: format.dateTime(before.at) })}</Table.Th><Table.Th scope="col">{t('plan.revision', { revision: after.revision, at: format.dateTime(after.at) })}</Table.Th><Table.Th scope="col">{t('plan.changed')}</Table.Th></Table.Tr></Table.Thead>
          <Table.Tbody>
            <Table.Tr><Table.Th scope="row">{t('plan.author')}</Table.Th><Table.Td>{before.author}</Table.Td><Table.Td>{after.author}</Table.Td><Table.Td /></Table.Tr>
            <Table.Tr><Table.Th scope="row">{t('plan.reasonGiven')}</Table.Th><Table.Td>{before.reason}</Table.Td><Table.Td>{after.reason}</Table.Td><Table.Td /></Table.Tr>
            {FIELDS.map((field) => {
              const [old, now] = [said(t, before.plan[field]), said(t, after.plan[field])];
              return <Table.Tr key={field}><Table.Th scope="row">{t(`plan.fields.${field}`)}</Table.Th><Table.Td>{old}</Table.Td><Table.Td>{now}</Table.Td><Table.Td>{old === now ? <Text size="sm" c="dimmed">{t('plan.same')}</Text> : <Text fw={600}>{t('plan.changed')}</Text>}</Table.Td></Table.Tr>;
            })}
          </Table.Tbody>
        </Table>
      </Table.ScrollContainer>
    </section>
  );
}

function said(t: TFunction<'floor'>, value: PlannedSheet[keyof PlannedSheet]): string {
  if (typeof value === 'boolean') return value ? t('plan.yes') : t('plan.no');
  return value === null || value === '' || (Array.isArray(value) && value.length === 0) ? t('plan.none') : Array.isArray(value) ? value.join(', ') : String(value);
}
