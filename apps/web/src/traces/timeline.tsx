import { Anchor, Button, Group, NativeSelect, SegmentedControl, Stack, Text, Title } from '@mantine/core';
import { useCallback, useEffect, useMemo, useState } from 'react';
import { useTranslation } from 'react-i18next';
import { Link, useNavigate } from 'react-router';
import type { Surrounding } from '#contract/incidents';
import type { Trace } from '#contract/traces';
import { chartText } from '../shared/chart-text.js';
import { useFormat } from '../shared/format.js';
import { Plot } from '../shared/plot.js';
import { QueryView } from '../shared/states.js';
import { recordHint } from './record-words.js';
import { RecordsList } from './records-list.js';
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
  const [listed, setListed] = useState(false);
  const [chosen, setChosen] = useState<string | null>(null);
  // A check or a signal has a page; an entry of the log book is shown in the list.
  const open = useCallback(({ customdata }: { customdata: unknown }) => {
    if (typeof customdata !== 'string') return;
    if (customdata.startsWith('/')) return void navigate(customdata);
    setListed(true);
    setChosen(customdata);
  }, [navigate]);
  useEffect(() => { if (listed && chosen !== null) document.getElementById(chosen)?.scrollIntoView({ block: 'center' }); }, [chosen, listed]);
  const figure = useMemo(() => timelineFigure(entries, trace.windows, trace.codedAtStepId, align, {
    kind: (kind) => incidents(`kindOf.${kind}`), passed: t('timeline.passed'), hours: t('timeline.hours'), wall: format.wall,
    describe: (entry) => [format.dateTime(entry.at), ...recordHint(t, entry)].map(chartText).join('<br>'),
  }), [entries, trace, align, t, incidents, format]);
  const machines = trace.windows.reduce((sum, window) => sum + window.machines.length, 0);
  if (entries.length === 0) return <Text>{t('records.none')}</Text>;
  return (
    <Stack gap="xs">
      <Plot figure={figure} label={t('timeline.plot')} height={Math.min(680, 150 + 34 * machines)} onPointClick={open} />
      <Text size="sm" c="dimmed">{t('timeline.plot')}</Text>
      <Group><Button variant="default" size="md" aria-expanded={listed} onClick={() => setListed(!listed)}>{listed ? t('records.hide') : t('records.show', { count: entries.length })}</Button></Group>
      {listed ? <RecordsList entries={entries} chosen={chosen} /> : null}
    </Stack>
  );
}
