import { Stack, Text } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import type { StreamVariation } from '#contract/planner';
import { engineers } from '#contract/roles';
import { useMay } from '../shared/session.js';
import { EmptyState } from '../shared/states.js';
import { GroundFields } from './ground-fields.js';
import { PlanTable } from './plan-table.js';
import { PlannerPicture } from './planner-picture.js';
import { usePlanFigures } from './planner.queries.js';
import { MOST_PLANS, type PlannerView } from './planner.url.js';
import { changedPlans, columnsOf, groundOf, readingSd, todaysPlan } from './start-plans.js';
import { TakeOver } from './take-over.js';

/** The plans with their answers, and the way to make one of them the plan. */
export function PlanComparison({ variation, view, onChange }: { variation: StreamVariation | null; view: PlannerView; onChange: (change: Partial<PlannerView>) => void }) {
  const { t } = useTranslation('planner');
  const mayTakeOver = useMay(engineers) && variation !== null;
  const [done, setDone] = useState<{ fits: boolean } | null>(null);
  const ground = groundOf(view, variation);
  const today = variation ? todaysPlan(variation) : null;
  const columns = columnsOf(today, view.plans);
  const answers = usePlanFigures(ground, columns.map(({ plan }) => plan));
  const compared = columns.flatMap((column, index) => {
    const answer = answers[index];
    return answer ? [{ ...column, answer, name: column.place === null ? t('plans.today') : t('plans.plan', { number: index + 1 }) }] : [];
  });
  const chosen = compared.find(({ place }) => place !== null && place + 1 === view.takeOver);
  const last = columns.at(-1);
  return (
    <Stack gap="md">
      <GroundFields ground={ground} view={view} variation={variation} onChange={onChange} />
      {variation && !today ? <Text>{t('plans.noToday')}</Text> : null}
      {readingSd(ground.sds) > 0 ? (
        <>
          <PlanTable compared={compared} ground={ground} canTakeOver={mayTakeOver} onTakeOver={(place) => { setDone(null); onChange({ plans: changedPlans(columns, -1, null), takeOver: place + 1 }); }}
            onPlan={(place, plan) => onChange({ plans: changedPlans(columns, place, plan) })}
            onAdd={() => { if (last) onChange({ plans: [...changedPlans(columns, -1, null), last.plan].slice(0, MOST_PLANS) }); }} />
          {done && variation ? <Text role="status">{t('takeOver.done')} {done.fits ? null : t('takeOver.unfit')} <Link to={`/charts?stream=${variation.stream.id}`}>{t('takeOver.charts')}</Link></Text> : null}
          {mayTakeOver && chosen ? (
            <TakeOver key={`${view.takeOver}`} name={chosen.name} plan={chosen.plan} figures={chosen.answer.data} parts={ground.parts} variation={variation}
              onDone={(fits) => { setDone({ fits }); onChange({ takeOver: undefined }); }} onCancel={() => onChange({ takeOver: undefined })} />
          ) : null}
          <PlannerPicture compared={compared} ground={ground} />
        </>
      ) : <EmptyState title={t('plans.title')} text={t('plans.noVariation')} />}
    </Stack>
  );
}
