import { Anchor, Group, NativeSelect, SegmentedControl, Stack, Text, Title } from '@mantine/core';
import { useCallback, useMemo, useState } from 'react';
import { useTranslation } from 'react-i18next';
import { Link, useNavigate } from 'react-router';
import type { Surrounding } from '#contract/incidents';
import type { Trace } from '#contract/traces';
import { chartText } from '../shared/chart-text.js';
import { useFormat } from '../shared/format.js';
import { Plot } from '../shared/plot.js';
import { QueryView } from '../shared/states.js';
import { type Align, timelineFigure } from './timeline.figure.js';
import { subjectPath, type TraceSubject } from './trace-subject.js';
import { useSurroundings } from './traces.queries.js';

const BEFORE = ['4', '12', '24', '48', '96'];

/** Everything on record of the line round these cans, aligned by can or by the clock; a point opens its source. */
export function Timeline({ subject, trace }: { subject: TraceSubject; trace: Trace }) {
  const { t } = useTranslation('traces');
  const [align, setAlign] = useState<Align>('can');
  const [before, setBefore] = useState(24);
  const around = useSurroundings(subject, before);
  return (
    <section>
      <Title order={2} size="h4" pb="xs">{t('timeline.title')}</Title>
      <Group align="flex-end" gap="md" pb="sm">
        <SegmentedControl aria-label={t('timeline.align')} value={align} onChange={(next) => setAlign(next === 'clock' ? 'clock' : 'can')} data={[{ value: 'can', label: t('timeline.byCan') }, { value: 'clock', label: t('timeline.byClock') }]} />
        <NativeSelect size="md" label={t('timeline.before')} value={String(before)} data={BEFORE} onChange={({ currentTarget: { value } }) => setBefore(Number(value))} />
        <Anchor component={Link} to={subjectPath(subject)} underline="always" py={8}>{t(`timeline.list.${subject.kind}`)}</Anchor>
      </Group>
      <QueryView query={around} what={t('loading')}>{({ entries }) => <Drawn entries={entries} trace={trace} align={align} />}</QueryView>
    </section>
  );
}

function Drawn({ entries, trace, align }: { entries: readonly Surrounding[]; trace: Trace; align: Align }) {
  const { t } = useTranslation('traces');
  const incidents = useTranslation('incidents').t;
  const format = useFormat();
  const navigate = useNavigate();
  const open = useCallback(({ customdata }: { customdata: unknown }) => { if (typeof customdata === 'string' && customdata) void navigate(customdata); }, [navigate]);
  const figure = useMemo(() => timelineFigure(entries, trace.windows, trace.codedAtStepId, align, {
    kind: (kind) => incidents(`kindOf.${kind}`), passed: t('timeline.passed'), hours: t('timeline.hours'), wall: format.wall,
    describe: (entry) => `${format.dateTime(entry.at)}<br>${chartText(said(entry))}`,
  }), [entries, trace, align, t, incidents, format]);
  const machines = trace.windows.reduce((sum, window) => sum + window.machines.length, 0);
  return <Stack gap="xs"><Plot figure={figure} label={t('timeline.plot')} height={Math.min(680, 150 + 34 * machines)} onPointClick={open} /><Text size="sm" c="dimmed">{t('timeline.plot')}</Text></Stack>;
}

function said(entry: Surrounding): string {
  switch (entry.kind) {
    case 'check': return entry.inspector;
    case 'signal': return [entry.characteristicName, entry.machineUnit, entry.lane, entry.rule.replaceAll('-', ' '), entry.side].filter(Boolean).join(', ');
    case 'event': return `${entry.eventKind.replaceAll('-', ' ')}: ${entry.text}`;
    case 'missed': return entry.plan;
  }
}
