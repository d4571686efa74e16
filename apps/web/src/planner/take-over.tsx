import { Alert, Button, Group, List, Paper, Stack, TagsInput, Text, Textarea, Title } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import type { StreamVariation } from '#contract/planner';
import { useFormat } from '../shared/format.js';
import { ProblemList } from '../shared/problem-list.js';
import type { PlanFigures } from './plan-figures.js';
import type { PlanDraft } from './planner.url.js';
import { useTakeOver } from './planner.queries.js';
import { choiceOf } from './rule-sets.js';

type Props = { name: string; plan: PlanDraft; figures: PlanFigures | undefined; parts: number; variation: StreamVariation; onDone: (limitsStillFit: boolean) => void; onCancel: () => void };

/** What would change, whom else it touches, and why: then check plan and rules change together. */
export function TakeOver({ name, plan, figures, parts, variation, onDone, onCancel }: Props) {
  const { t } = useTranslation('planner');
  const { stream, plan: now } = variation;
  const refusal = !now ? t('takeOver.noPlan') : plan.scheme.kind !== 'rules' ? t('takeOver.refused', { chart: t(`plans.charts.${choiceOf(plan.scheme)}`) }) : figures ? null : t('takeOver.notReady');
  return (
    <Paper withBorder p="md" component="section" aria-label={t('takeOver.title', { plan: name })}>
      <Stack gap="sm">
        <Title order={2} size="h4">{t('takeOver.title', { plan: name })}</Title>
        {refusal !== null || !now || !figures ? (
          <><Alert color="gray">{refusal}</Alert><Group><Button variant="default" size="md" onClick={onCancel}>{t('takeOver.cancel')}</Button></Group></>
        ) : <TakeOverForm now={now} stream={stream} plan={plan} figures={figures} parts={parts} onDone={onDone} onCancel={onCancel} />}
      </Stack>
    </Paper>
  );
}

function TakeOverForm({ now, stream, plan, figures, parts, onDone, onCancel }: Pick<Props, 'plan' | 'parts' | 'onDone' | 'onCancel'> & { now: NonNullable<StreamVariation['plan']>; stream: StreamVariation['stream']; figures: PlanFigures }) {
  const { t } = useTranslation('planner');
  const { t: words } = useTranslation('specifications');
  const format = useFormat();
  const [positions, setPositions] = useState(now.positions.slice(0, plan.positions));
  const [reason, setReason] = useState('');
  const [tried, setTried] = useState(false);
  const act = useTakeOver(stream.id);
  const change = (label: string, from: number | null, to: number) => <List.Item>{from === to ? t('takeOver.same', { name: label, to: format.number(to, 0) }) : t('takeOver.fromTo', { name: label, from: format.number(from, 0), to: format.number(to, 0) })}</List.Item>;
  const isWrongCount = positions.length !== plan.positions;
  const isUnreasoned = reason.trim().length < 3;
  const save = () => {
    setTried(true);
    if (isWrongCount || isUnreasoned) return;
    const seen = figures.shown.find(({ isOwn }) => isOwn) ?? figures.shown.find(({ sigma }) => sigma === 1);
    if (!seen) return;
    act.mutate({
      checkPlanId: now.id, cans: plan.cans, positions, everyMinutes: plan.everyMinutes, scheme: plan.scheme, reason,
      figures: { falseAlarmDays: figures.falseAlarm.days, shift: seen.shift, cansUntilSeen: seen.cans?.mean ?? null, hoursUntilSeen: seen.minutes.mean === null ? null : seen.minutes.mean / 60, tornDownPerDay: figures.tornDownPerDay * parts },
    }, { onSuccess: ({ limitsStillFit }) => onDone(limitsStillFit) });
  };
  return (
    <>
      <Text>{t('takeOver.change', { name: now.name, machine: stream.machine.code })}</Text>
      <List size="sm">
        {change(t('plans.cans'), now.cans, plan.cans)}
        {change(t('plans.everyMinutes'), now.everyMinutes, plan.everyMinutes)}
        {change(t('plans.positions'), now.positions.length, plan.positions)}
      </List>
      <TagsInput label={t('takeOver.positionsNow', { count: plan.positions })} description={t('takeOver.positionsHint')} value={positions} onChange={setPositions} splitChars={[',', ';']} acceptValueOnBlur size="md" error={isWrongCount ? t('takeOver.wrongCount', { count: plan.positions }) : undefined} />
      {plan.scheme.kind === 'rules' ? <Text size="sm">{t('takeOver.rules', { rules: plan.scheme.rules.map((rule) => words(`rules.${rule}`)).join('; ') })}</Text> : null}
      {now.otherStreams > 0 ? <Text size="sm">{t('takeOver.others', { count: now.otherStreams })}</Text> : null}
      <Textarea label={t('takeOver.reason')} description={t('takeOver.reasonHint')} autosize minRows={2} size="md" maxLength={1000} value={reason} onChange={({ currentTarget: { value } }) => setReason(value)} error={tried && isUnreasoned ? t('takeOver.needsReason') : undefined} />
      {act.isError ? <ProblemList error={act.error} /> : null}
      <Group><Button size="md" loading={act.isPending} onClick={save}>{t('takeOver.save')}</Button><Button size="md" variant="default" onClick={onCancel}>{t('takeOver.cancel')}</Button></Group>
    </>
  );
}
