import { Paper, Title } from '@mantine/core';
import { useMemo, useState } from 'react';
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
  // While all plans are computed anew the former picture stays in its place, pale, so that the page does not jump.
  const [kept, setKept] = useState(figure);
  if (figure && figure !== kept) setKept(figure);
  const isComputing = figure === null && compared.some(({ answer }) => answer.isFetching);
  const shown = figure ?? (isComputing ? kept : null);
  if (!shown) return null;
  return (
    <Paper withBorder p="md" component="section" style={{ opacity: isComputing ? 0.5 : 1 }}>
      <Title order={2} size="h4">{t(hasCans ? 'picture.title' : 'picture.titleTime')}</Title>
      <Plot figure={shown} height={380} label={t('picture.label', { plans: compared.map(({ name }) => name).join(', ') })} />
    </Paper>
  );
}
