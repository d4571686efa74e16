import { Button, Group, NativeSelect, SegmentedControl, Stack, Text } from '@mantine/core';
import { useCallback } from 'react';
import { useTranslation } from 'react-i18next';
import { Navigate } from 'react-router';
import type { StreamListed } from '#contract/specifications';
import { useAddressParams } from '../shared/address-params.js';
import { firstStream } from '../shared/stream-picker/choose-stream.js';
import { StreamPicker } from '../shared/stream-picker/stream-picker.js';
import { EmptyState, Page, QueryView } from '../shared/states.js';
import { PlanComparison } from './plan-comparison.js';
import { changePlannerView, type PlannerView, readPlannerUrl, writePlannerUrl } from './planner.url.js';
import { useStreams, useVariation } from './planner.queries.js';
import { VariationView } from './variation-view.js';

export type Change = (change: Partial<PlannerView>) => void;

/** The address holds all that is chosen and typed, so that a comparison can be sent to somebody. */
export function PlannerPage() {
  const { t } = useTranslation('planner');
  const [params, changeParams] = useAddressParams();
  const view = readPlannerUrl(params);
  const change: Change = useCallback((next) => changeParams((before) => writePlannerUrl(changePlannerView(readPlannerUrl(before), next)), { replace: true }), [changeParams]);
  const streams = useStreams();
  return (
    <Page title={t('title')}>
      <Text c="dimmed">{t('intro')}</Text>
      <QueryView query={streams} what={t('loadingStreams')}>{(data) => <Chosen streams={data.streams} view={view} onChange={change} />}</QueryView>
    </Page>
  );
}

const DAY_MS = 86_400_000;
const SPANS = [7, 30, 90] as const;

function Chosen({ streams, view, onChange }: { streams: readonly StreamListed[]; view: PlannerView; onChange: Change }) {
  const { t } = useTranslation('planner');
  const first = firstStream(streams);
  if (view.stream === undefined && !view.typed && first) return <Navigate replace to={`?${writePlannerUrl({ ...view, stream: first.id })}`} />;
  const stream = streams.find(({ id }) => id === view.stream);
  const isTyped = view.typed === true || first === undefined;
  return (
    <Stack gap="md">
      {first ? (
        <Group gap="md" align="flex-end" className="no-print">
          <SegmentedControl size="md" aria-label={t('mode.label')} value={isTyped ? 'typed' : 'stream'} data={[{ value: 'stream', label: t('mode.stream') }, { value: 'typed', label: t('mode.typed') }]}
            onChange={(mode) => onChange(mode === 'typed' ? { typed: true, stream: undefined } : { typed: undefined, stream: first.id })} />
          {stream && !isTyped ? <><StreamPicker streams={streams} stream={stream} onChoose={(id) => onChange({ stream: id })} /><SpanChoice stream={stream} view={view} onChange={onChange} /></> : null}
        </Group>
      ) : null}
      {isTyped ? <PlanComparison variation={null} view={view} onChange={onChange} />
        : stream ? <OfStream key={stream.id} stream={stream} view={view} onChange={onChange} />
          : <EmptyState title={t('gone.title')} text={t('gone.text')} action={<Button size="md" variant="default" onClick={() => onChange({ stream: first.id })}>{t('title')}</Button>} />}
    </Stack>
  );
}

/** The newest checks, or those of the last days that were measured; a span that came with the address stays choosable. */
function SpanChoice({ stream, view, onChange }: { stream: StreamListed; view: PlannerView; onChange: Change }) {
  const { t } = useTranslation('planner');
  const { lastAt } = stream;
  if (lastAt === null) return null;
  const since = (days: number) => new Date(new Date(lastAt).getTime() - days * DAY_MS).toISOString();
  const isOpen = view.from === undefined && view.to === undefined;
  const days = isOpen || view.to !== undefined ? undefined : SPANS.find((count) => since(count) === view.from);
  const value = isOpen ? 'all' : days === undefined ? 'own' : String(days);
  return (
    <NativeSelect size="md" label={t('span.label')} value={value}
      data={[{ value: 'all', label: t('span.all') }, ...SPANS.map((count) => ({ value: String(count), label: t('span.days', { count }) })), ...(value === 'own' ? [{ value: 'own', label: t('span.own') }] : [])]}
      onChange={({ currentTarget: { value: chosen } }) => onChange({ from: chosen === 'all' ? undefined : since(Number(chosen)), to: undefined })} />
  );
}

function OfStream({ stream, view, onChange }: { stream: StreamListed; view: PlannerView; onChange: Change }) {
  const { t } = useTranslation('planner');
  const variation = useVariation(stream.id, view);
  return (
    <QueryView query={variation} what={t('loading')}>
      {(data) => (
        <Stack gap="md">
          <VariationView variation={data} />
          <PlanComparison variation={data} view={view} onChange={onChange} />
        </Stack>
      )}
    </QueryView>
  );
}
