import { Button, Group, Paper, Stack, Table, Text, Title } from '@mantine/core';
import type { UseQueryResult } from '@tanstack/react-query';
import type { ReactNode } from 'react';
import { useTranslation } from 'react-i18next';
import { useFormat } from '../shared/format.js';
import { ProblemError } from '../shared/http.js';
import { FigureField } from './figure-field.js';
import { type PlanFigures, shownShifts, type Wanted } from './plan-figures.js';
import { cans, duration, rough } from './plan-words.js';
import { MOST_PLANS, type PlanDraft } from './planner.url.js';
import { SchemeField, SchemeWords } from './scheme-field.js';
import { adviceOf, type Column, type Ground, readingSd } from './start-plans.js';

export type Compared = Column & { name: string; answer: UseQueryResult<PlanFigures> };
type Props = { compared: readonly Compared[]; ground: Ground; canTakeOver: boolean; onPlan: (place: number, plan: PlanDraft | null) => void; onAdd: () => void; onTakeOver: (place: number) => void };

const ADVICE = ['checks', 'cans', 'positions'] as const;

/** Plans as columns: what each is, what it costs, and how much passes until a shift is seen. */
export function PlanTable({ compared, ground, canTakeOver, onPlan, onAdd, onTakeOver }: Props) {
  const { t } = useTranslation('planner');
  const format = useFormat();
  const fine = (value: number) => (ground.unit === '' ? String(Number(value.toPrecision(3))) : format.withUnit(value, ground.decimals + 2, ground.unit));
  const row = (heading: string, cell: (column: Compared) => ReactNode, hint?: string) => (
    <Table.Tr key={heading}><Table.Th scope="row">{heading}{hint ? <Text size="xs" c="dimmed">{hint}</Text> : null}</Table.Th>{compared.map((column) => <Table.Td key={column.name}>{cell(column)}</Table.Td>)}</Table.Tr>
  );
  const input = (name: 'cans' | 'positions' | 'everyMinutes') => row(t(`plans.${name}`), ({ plan, place, name: column }) => (place === null ? <Text>{format.number(plan[name], 0)}</Text> : (
    <FigureField isLabelHidden name={name} label={t('plans.of', { plan: column, name: t(`plans.${name}`) })} value={plan[name]} onCommit={(value) => onPlan(place, { ...plan, [name]: value })} />
  )));
  const answered = (cell: (figures: PlanFigures, column: Compared) => ReactNode) => (column: Compared) => <Answered answer={column.answer}>{(figures) => cell(figures, column)}</Answered>;
  const shiftName = ({ sigma, shift, isOwn }: Wanted) => (isOwn ? t('answers.shiftOwn', { shift: fine(shift) }) : t('answers.shiftBoth', { sigma, shift: fine(shift) }));
  return (
    <Paper withBorder p="md" component="section">
      <Stack gap="sm">
        <Title order={2} size="h4">{t('plans.title')}</Title>
        <Table.ScrollContainer minWidth={136 + 140 * compared.length}>
          <Table className="plan-table">
            <Table.Thead>
              <Table.Tr>
                <Table.Th scope="col">{t('plans.measure')}</Table.Th>
                {compared.map(({ name, place }) => (
                  <Table.Th key={name} scope="col">
                    <Text fw={700}>{name}</Text>
                    {place === null ? null : (
                      <Group gap={4}>
                        {canTakeOver ? <Button size="compact-sm" variant="default" onClick={() => onTakeOver(place)} aria-label={t('plans.of', { plan: name, name: t('plans.takeOver') })}>{t('plans.takeOver')}</Button> : null}
                        {compared.filter((column) => column.place !== null).length > 1 ? <Button size="compact-sm" variant="default" onClick={() => onPlan(place, null)} aria-label={t('plans.of', { plan: name, name: t('plans.remove') })}>{t('plans.remove')}</Button> : null}
                      </Group>
                    )}
                  </Table.Th>
                ))}
              </Table.Tr>
            </Table.Thead>
            <Table.Tbody>
              {input('cans')}{input('positions')}{input('everyMinutes')}
              {row(t('plans.chart'), ({ plan, place, name }) => (place === null ? <SchemeWords scheme={plan.scheme} /> : <SchemeField scheme={plan.scheme} plan={name} onChange={(scheme) => onPlan(place, { ...plan, scheme })} />))}
            </Table.Tbody>
            <Table.Tbody>
              <Table.Tr className="plan-group"><Table.Th scope="rowgroup" colSpan={compared.length + 1}>{t('answers.cost')}</Table.Th></Table.Tr>
              {row(t('answers.falseAlarm'), answered(({ falseAlarm: { points, days } }) => <Pair main={days === null ? t('answers.never') : t('answers.days', { value: rough(format, days) })} more={points === null ? null : t('answers.falseAlarmOf', { points: rough(format, points) })} />))}
              {row(t('answers.tornDown'), answered(({ tornDownPerDay }) => <Pair main={t('answers.cans', { value: rough(format, tornDownPerDay * ground.parts) })} more={ground.parts > 1 ? t('answers.tornDownOf', { parts: ground.parts, own: rough(format, tornDownPerDay) }) : null} />))}
              {row(t('answers.pointSd'), answered(({ meanSd }) => <Text>{fine(meanSd)}</Text>))}
            </Table.Tbody>
            <Table.Tbody>
              <Table.Tr className="plan-group"><Table.Th scope="rowgroup" colSpan={compared.length + 1}>{t('answers.seen')}</Table.Th></Table.Tr>
              {shownShifts(ground).map((shift, index) => row(shiftName(shift), answered(({ shown }) => {
                const seen = shown[index];
                if (!seen) return null;
                const time = (minutes: number | null) => duration(t, format, minutes, ground.hours);
                return (
                  <>
                    {seen.cans ? <Pair main={cans(t, format, seen.cans.mean)} more={t('answers.within', { value: cans(t, format, seen.cans.p95) })} /> : null}
                    <Pair main={time(seen.minutes.mean)} more={t('answers.within', { value: time(seen.minutes.p95) })} />
                  </>
                );
              })))}
            </Table.Tbody>
          </Table>
        </Table.ScrollContainer>
        {compared.length < MOST_PLANS ? <Group><Button size="md" variant="default" onClick={onAdd}>{t('plans.add')}</Button></Group> : null}
        <Text size="sm">{t('answers.sigma', { sd: fine(readingSd(ground.sds)) })}</Text>
        {ADVICE.map((advice) => {
          const plans = compared.filter(({ plan }) => adviceOf(ground.sds, plan) === advice).map(({ name }) => name);
          return plans.length === 0 ? null : <Text key={advice} size="sm">{t(`answers.advice.${advice}`, { plan: plans.join(', ') })}</Text>;
        })}
        {ground.limits === 'short-term' && ground.sds.check > 0 ? <Text size="sm">{t('answers.steady')}</Text> : null}
        <Text size="sm">{t('answers.assumptions', { hours: format.number(ground.hours, 1) })}</Text>
        <Text size="sm">{t('answers.caution')}</Text>
      </Stack>
    </Paper>
  );
}

function Pair({ main, more }: { main: string; more: string | null }) {
  return <><Text>{main}</Text>{more === null ? null : <Text size="sm" c="dimmed">{more}</Text>}</>;
}

function Answered({ answer, children }: { answer: UseQueryResult<PlanFigures>; children: (figures: PlanFigures) => ReactNode }) {
  const { t } = useTranslation('planner');
  if (answer.data) return children(answer.data);
  if (answer.isError) return <Text size="sm">{t('answers.failed', { reason: answer.error instanceof ProblemError ? answer.error.message : t('error.unexpected', { ns: 'common' }) })}</Text>;
  return <Text size="sm" c="dimmed">{t('answers.loading')}</Text>;
}
