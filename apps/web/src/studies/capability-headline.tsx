import { Paper, Stack, Text, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import type { CapabilityEntry, CapabilityStudy } from '#contract/studies';
import { type Format, useFormat } from '../shared/format.js';
import { StateBadge } from '../shared/state-badge.js';
import { rowName, STABILITY_STATES } from './study-words.js';

/** Stability before the figure, and the worst stream before the machine. */
export function CapabilityHeadline({ study }: { study: CapabilityStudy }) {
  const { t } = useTranslation('studies');
  const format = useFormat();
  const [worst] = study.streams;
  if (!worst) return null;
  const { state, judged, notJudged, signals } = (study.pooled ?? worst).stability;
  const reason = state === 'stable' ? t('headline.stableText') : state === 'not-stable' ? t('headline.notStableText', { count: signals.length }) : t('headline.notJudgedText', { notJudged, points: judged + notJudged });
  const stable = study.streams.filter((entry) => entry.stability.state === 'stable').length;
  const name = study.streams.length > 1 ? t('headline.worst', { row: rowName(t, worst) }) : rowName(t, worst);
  return (
    <Paper withBorder p="md" component="section" aria-live="polite" className="study-block">
      <Stack gap="xs">
        <Title order={2} size="h3"><StateBadge state={STABILITY_STATES[state]} word={t(worst.method === 'fraction' ? `headline.share.${state}` : `headline.${state}`)} /></Title>
        <Text>{reason}</Text>
        {study.streams.length > 1 ? <Text>{t('headline.streams', { stable, all: study.streams.length })}</Text> : null}
        <Text fw={600}>{name}</Text>
        <WorstFigure entry={worst} confidence={study.confidence} format={format} />
      </Stack>
    </Paper>
  );
}

function WorstFigure({ entry, confidence, format }: { entry: CapabilityEntry; confidence: number; format: Format }) {
  const { t } = useTranslation('studies');
  const { refusal, method, figures, outside, basis, n, subgroups } = entry;
  const percent = format.number(confidence * 100, confidence * 1000 % 10 === 0 ? 0 : 1);
  const counted = t(basis === 'can' ? 'headline.cans' : 'headline.readings', { count: n, subgroups });
  if (refusal) return <Text>{t(`refusal.${refusal.code}`, { needed: refusal.needed ?? 0 })}</Text>;
  if (method === 'fraction') {
    if (!outside) return <Text>{t('headline.noFigure')}</Text>;
    return (
      <>
        <Text size="xl" fw={700}>{t('headline.found', { found: outside.found, units: outside.units, percent: format.number(outside.fraction * 100, 2) })}</Text>
        <Text>{t('headline.shareBound', { confidence: percent, percent: format.number(outside.upperBound * 100, 2) })}</Text>
        <Text>{counted}</Text>
      </>
    );
  }
  if (!figures || figures.ppk === null) return <Text>{t('headline.undefinedIndex')}</Text>;
  const interval = figures.intervals.ppk;
  return (
    <>
      <Text size="xl" fw={700}>{t('headline.ppk', { value: format.number(figures.ppk, 2) })}</Text>
      {interval ? <Text>{t('headline.interval', { percent, low: format.number(interval.low, 2), high: format.number(interval.high, 2) })}</Text> : null}
      {figures.ppkLowerBound === null ? null : <Text>{t('headline.notBelow', { percent, value: format.number(figures.ppkLowerBound, 2) })}</Text>}
      <Text>{counted}</Text>
    </>
  );
}
