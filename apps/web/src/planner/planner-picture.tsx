import { Paper, Text, Title } from '@mantine/core';
import { useMemo } from 'react';
import { useTranslation } from 'react-i18next';
import { useFormat } from '../shared/format.js';
import { Plot } from '../shared/plot.js';
import type { Compared } from './plan-table.js';
import { rough } from './plan-words.js';
import { plannerFigure } from './planner.figure.js';
import type { Ground } from './start-plans.js';

/** One line a plan: cans, or hours where the speed is not known, until a shift of each size is seen. */
export function PlannerPicture({ compared, ground }: { compared: readonly Compared[]; ground: Ground }) {
  const { t } = useTranslation('planner');
  const format = useFormat();
  const hasCans = ground.speed !== null;
  const curves = compared.flatMap(({ name, answer: { data } }) => (data ? [{ name, shifts: data.curve.map(({ shift }) => shift), until: data.curve.map(({ cans, minutes }) => (hasCans ? cans?.mean ?? null : minutes.mean === null ? null : minutes.mean / 60)) }] : []));
  const key = JSON.stringify(curves);
  const { unit, decimals } = ground;
  // biome-ignore lint/correctness/useExhaustiveDependencies: the curves are made anew with each rendering; their content says whether they changed
  const figure = useMemo(() => (curves.length === 0 ? null : plannerFigure(curves, {
    shift: unit === '' ? t('picture.shiftPlain') : t('picture.shift', { unit }), until: t(hasCans ? 'picture.cans' : 'picture.hours'),
    point: (plan, shift, until) => t('picture.point', { plan, shift: format.withUnit(shift, decimals + 2, unit), value: t(hasCans ? 'answers.cans' : 'answers.hours', { value: rough(format, until) }) }),
  })), [key, unit, decimals, hasCans, format, t]);
  return (
    <Paper withBorder p="md" component="section">
      <Title order={2} size="h4">{t(hasCans ? 'picture.title' : 'picture.titleTime')}</Title>
      {figure ? <Plot figure={figure} height={380} label={t('picture.label', { plans: curves.map(({ name }) => name).join(', ') })} /> : <div style={{ minHeight: 380 }}><Text c="dimmed">{t('answers.loading')}</Text></div>}
    </Paper>
  );
}
