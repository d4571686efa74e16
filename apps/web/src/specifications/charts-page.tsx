import { Button } from '@mantine/core';
import { useCallback } from 'react';
import { useTranslation } from 'react-i18next';
import { Link, Navigate } from 'react-router';
import { getChartCsv, type StreamListed } from '#contract/specifications';
import { useAddressParams } from '../shared/address-params.js';
import { address } from '../shared/http.js';
import { NotForAuditors } from '../shared/not-for-auditors.js';
import { EmptyState, Page, QueryView } from '../shared/states.js';
import { firstStream } from '../shared/stream-picker/choose-stream.js';
import { StreamPicker } from '../shared/stream-picker/stream-picker.js';
import { changeChartsView, type ChartsView, readChartsUrl, spanOf, writeChartsUrl } from './charts.url.js';
import { CompareView } from './compare-view.js';
import { OneChart } from './one-chart.js';
import { useStreams } from './specifications.queries.js';

export function ChartsPage() {
  const { t } = useTranslation('specifications');
  const streams = useStreams();
  return (
    <QueryView query={streams} what={t('loadingStreams')} isEmpty={(data) => data.streams.length === 0}
      empty={<Page title={t('title')}><EmptyState title={t('noStreams.title')} text={t('noStreams.text')} action={<Button component={Link} to="/log" size="md">{t('noStreams.log')}</Button>} /></Page>}>
      {(data) => <ChosenChart streams={data.streams} />}
    </QueryView>
  );
}

/** The address says what is shown, so that it can be copied. */
function ChosenChart({ streams }: { streams: readonly StreamListed[] }) {
  const { t } = useTranslation('specifications');
  const [params, changeParams] = useAddressParams();
  const change = useCallback((next: ChartsView) => changeParams((before) => writeChartsUrl(changeChartsView(readChartsUrl(before), next)), { replace: next.stream === undefined }), [changeParams]);
  const view = readChartsUrl(params);
  const first = firstStream(streams);
  if (view.stream === undefined && first) return <Navigate replace to={`?${writeChartsUrl({ ...view, stream: first.id })}`} />;
  const stream = streams.find(({ id }) => id === view.stream);
  if (!stream) return <Page title={t('title')}><EmptyState title={t('gone.title')} text={t('gone.text')} action={first ? <Button size="md" variant="default" onClick={() => change({ stream: first.id })}>{t('title')}</Button> : null} /></Page>;
  const { product, machine, characteristic, unit, lane } = stream;
  const capability = new URLSearchParams([['product', product.id], ['machine', machine.id], ['characteristic', characteristic.id], ...(unit ? [['unit', unit.id]] : []), ...(lane ? [['lane', lane.id]] : [])].map(([name, value]) => [String(name), String(value)]));
  const actions = (
    <>
      <NotForAuditors><Button variant="default" size="md" onClick={() => change({ side: view.side ? undefined : true })}>{view.side ? t('compare.back') : t('pick.side')}</Button></NotForAuditors>
      <Button component={Link} variant="default" size="md" to={`/capability?${capability}`}>{t('pick.capability')}</Button>
      <Button component="a" variant="default" size="md" href={address(getChartCsv, { params: { streamId: stream.id }, query: spanOf(view) })} download>{t('pick.csv')}</Button>
    </>
  );
  return (
    <Page title={view.side ? t('compare.title', { name: characteristic.name }) : t('title')} actions={actions}>
      <StreamPicker streams={streams} stream={stream} onChoose={(id) => change({ stream: id })} />
      {view.side ? <CompareView stream={stream} onOpen={(id) => change({ stream: id, side: undefined })} /> : <OneChart listed={stream} view={view} onChange={change} />}
    </Page>
  );
}
