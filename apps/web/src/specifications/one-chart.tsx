import { Button, Group, Stack, Switch, Text } from '@mantine/core';
import { useCallback, useMemo, useState } from 'react';
import { useTranslation } from 'react-i18next';
import { engineers } from '#contract/roles';
import type { ChartView, StreamListed } from '#contract/specifications';
import { ChartPicture } from '../shared/control-chart/chart-picture.js';
import { useChart } from '../shared/control-chart/control-chart.queries.js';
import { PointReader } from '../shared/control-chart/point-reader.js';
import { NotForAuditors } from '../shared/not-for-auditors.js';
import { useMay } from '../shared/session.js';
import { EmptyState, QueryView } from '../shared/states.js';
import { type ChartsView, pointKey, spanOf } from './charts.url.js';
import { EveryBody } from './every-body.js';
import { FlaggedTable } from './flagged-table.js';
import { emptyDraft, type FreezeDraft, isExcluded, pickBaseline } from './freeze-draft.js';
import { FreezePanel } from './freeze-panel.js';
import { LimitsHistory } from './limits-history.js';
import { NumbersTable } from './numbers-table.js';
import { PointCard } from './point-card.js';
import { SpanPicker } from './span-picker.js';
import { StreamHead } from './stream-head.js';

type Change = (change: ChartsView) => void;

/** One stream in depth. */
export function OneChart({ listed, view, onChange }: { listed: StreamListed; view: ChartsView; onChange: Change }) {
  const { t } = useTranslation('specifications');
  const chart = useChart(listed.id, spanOf(view));
  const shown = chart.data && chart.data.points.takenAt.length > 0 ? { first: chart.data.points.takenAt[0] ?? '', last: chart.data.points.takenAt.at(-1) ?? '' } : null;
  return (
    <Stack gap="md">
      <Group gap="lg" align="flex-end">
        <SpanPicker view={view} shown={shown} onChange={onChange} />
        <Switch size="md" label={t('pick.zones')} checked={view.zones ?? false} onChange={({ currentTarget: { checked } }) => onChange({ zones: checked || undefined })} className="no-print" />
      </Group>
      <QueryView query={chart} what={t('chart.loading')} isEmpty={({ points }) => points.takenAt.length === 0} empty={<EmptyState title={t('none.title')} text={t('none.text')} />}>
        {(data) => <Chart key={listed.id} chart={data} listed={listed} view={view} onChange={onChange} />}
      </QueryView>
    </Stack>
  );
}

function Chart({ chart, listed, view, onChange }: { chart: ChartView; listed: StreamListed; view: ChartsView; onChange: Change }) {
  const { t } = useTranslation('specifications');
  const mayFreeze = useMay(engineers);
  const [draft, setDraft] = useState<FreezeDraft>(emptyDraft);
  const [news, setNews] = useState('');
  const { points } = chart;
  const isFreezing = mayFreeze && view.freeze === true;
  const keys = useMemo(() => points.takenAt.map((takenAt, index) => pointKey(takenAt, points.sequence[index] ?? 0)), [points]);
  const found = view.point === undefined ? -1 : keys.indexOf(view.point);
  const selected = found < 0 ? null : found;
  const options = useMemo(() => ({
    zones: view.zones, selected,
    baseline: isFreezing && draft.from !== null ? { from: draft.from, to: draft.to ?? draft.from } : null,
    excluded: isFreezing ? points.takenAt.flatMap((takenAt, index) => (isExcluded(draft, { takenAt, sequence: points.sequence[index] ?? 0 }) ? [index] : [])) : [],
  }), [view.zones, selected, isFreezing, draft, points]);
  const select = useCallback((index: number) => onChange({ point: keys[index] }), [onChange, keys]);
  const click = useCallback((index: number) => {
    // While a baseline is being chosen a click is one of its ends; afterwards it chooses a point again.
    if (isFreezing && draft.to === null) setDraft((before) => pickBaseline(before, points.takenAt[index] ?? ''));
    else select(index);
  }, [isFreezing, draft.to, points, select]);
  const close = () => { setDraft(emptyDraft); onChange({ freeze: undefined }); };
  return (
    <Stack gap="md">
      <StreamHead view={chart} listed={listed} mayFreeze={mayFreeze} />
      <div><ChartPicture view={chart} options={options} onPoint={click} /></div>
      <PointReader view={chart} selected={selected} onSelect={select} />
      {points.takenAt.length > 0 ? <NotForAuditors><EveryBody stream={listed} first={points.takenAt[0] ?? ''} last={points.takenAt.at(-1) ?? ''} /></NotForAuditors> : null}
      {chart.older ? <Text size="sm" c="dimmed">{t('pick.older')}</Text> : null}
      {news ? <Text role="status">{news}</Text> : null}
      {mayFreeze && !isFreezing ? <Group className="no-print"><Button variant="default" size="md" onClick={() => { setNews(''); onChange({ freeze: true }); }}>{t('freeze.open')}</Button></Group> : null}
      {isFreezing ? <FreezePanel view={chart} draft={draft} onDraft={setDraft} selected={selected} onDone={(text) => { setNews(text); close(); }} onCancel={close} /> : null}
      {selected !== null ? <PointCard stream={chart.stream} point={{ takenAt: points.takenAt[selected] ?? '', sequence: points.sequence[selected] ?? 0 }} onClose={() => onChange({ point: undefined })} /> : null}
      <FlaggedTable view={chart} onSelect={select} />
      <LimitsHistory view={chart} />
      <NumbersTable view={chart} />
    </Stack>
  );
}
