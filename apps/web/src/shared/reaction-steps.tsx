import { List, Paper, Text, Title } from '@mantine/core';
import type { TFunction } from 'i18next';
import { useQuery } from '@tanstack/react-query';
import { useTranslation } from 'react-i18next';
import { listReactionPlans, type ReactionPlan } from '#contract/reaction-plans';
import { useFormat } from './format.js';
import { call } from './http.js';
import { QueryView } from './states.js';
import { useStepWord } from './step-word.js';

export function useScopeWords(): (plan: ReactionPlan) => string {
  const { t } = useTranslation('floor');
  const step = useStepWord();
  return (plan) => scopeWords(t, plan, step(plan.stepKind));
}
function scopeWords(t: TFunction<'floor'>, { characteristic, machine, unit }: ReactionPlan, step: string): string {
  if (machine === null) return t('reaction.step', { characteristic, step });
  return unit === null ? t('reaction.stream', { characteristic, machine }) : t('reaction.streamUnit', { characteristic, machine, unit });
}

/** The steps that the plant wrote, with version and author. */
export function ReactionSteps({ plan }: { plan: ReactionPlan }) {
  const { t } = useTranslation('floor');
  const format = useFormat();
  const words = useScopeWords();
  return (
    <Paper withBorder p="md" component="section" aria-label={t('reaction.title')}>
      <Title order={3} size="h5">{t('reaction.title')}</Title>
      <Text size="sm" c="dimmed">{t('reaction.of', { scope: words(plan), version: plan.version })}, {t('reaction.by', { author: plan.author, at: format.dateTime(plan.at) })}</Text>
      <List type="ordered" mt="xs">{plan.steps.map((step) => <List.Item key={step}>{step}</List.Item>)}</List>
    </Paper>
  );
}

/** The plan that holds for a chart, for the page of a signal. */
export function ReactionOf({ streamId }: { streamId: number }) {
  const { t } = useTranslation('floor');
  const query = useQuery({ queryKey: ['reaction-plans', 'of', streamId], queryFn: ({ signal }) => call(listReactionPlans, { query: { stream: streamId }, signal }) });
  return <QueryView query={query} what={t('reaction.loading')}>{({ plans }) => (plans[0] ? <ReactionSteps plan={plans[0]} /> : <Text c="dimmed">{t('reaction.none')}</Text>)}</QueryView>;
}
