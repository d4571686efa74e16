import { NativeSelect, Stack } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { listCheckPlanRevisions } from '#contract/check-plans';
import type { PlantTree } from '#contract/plant';
import { CompareVersions } from '../shared/compare-versions.js';
import { openerWord } from '../shared/due-words.js';
import { useFormat } from '../shared/format.js';
import { call } from '../shared/http.js';
import { QueryView } from '../shared/states.js';

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
  const format = useFormat();
  const query = useQuery({ queryKey: ['check-plan-revisions', plan.id, plan.revision], queryFn: ({ signal }) => call(listCheckPlanRevisions, { params: { id: plan.id }, signal }) });
  return <QueryView query={query} what={t('plan.historyLoading')}>{({ revisions }) => (
    <CompareVersions title={t('plan.history', { name: plan.name })} versions={revisions.map(({ revision, at, author, reason, plan: { openedBy, ...rest } }) => ({ key: String(revision), label: t('plan.revision', { revision, at: format.dateTime(at) }), author, at, reason, fields: { ...rest, openedBy: openedBy.map((kind) => openerWord(t, kind)) } }))} />
  )}</QueryView>;
}
