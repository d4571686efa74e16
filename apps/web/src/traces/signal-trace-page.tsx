import { Stack, Text } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useTranslation } from 'react-i18next';
import { useParams } from 'react-router';
import { getSignal } from '#contract/signals';
import { useAddressParams } from '../shared/address-params.js';
import { useFormat } from '../shared/format.js';
import { call } from '../shared/http.js';
import { placeOf, SignalSentence } from '../shared/signal-words.js';
import { SignalDefect } from './signal-defect.js';
import { TraceOf } from './trace-page.js';

/** From a bare signal to where it began; the defect that is asked about stands in the address. */
export function SignalTracePage() {
  const { t } = useTranslation('traces');
  const { t: words } = useTranslation('signals');
  const format = useFormat();
  const id = Number(useParams()['id']);
  const [params, setParams] = useAddressParams();
  const { data } = useQuery({ queryKey: ['signal', id], queryFn: ({ signal }) => call(getSignal, { params: { id }, signal }) });
  return (
    <TraceOf subject={{ kind: 'signal', id }} defect={params.get('defect') ?? undefined} head={(trace) => (
      <Stack gap="md">
        {data ? (
          <section>
            <Text fw={600} size="lg">{placeOf(words, data.signal.stream)}</Text>
            <Text><SignalSentence signal={data.signal} /></Text>
            <Text c="dimmed">{t('signal.cans', { from: format.dateTime(data.signal.firstAt), until: format.dateTime(data.signal.firedAt), machine: data.signal.stream.machine.code })}</Text>
          </section>
        ) : null}
        <SignalDefect trace={trace} characteristic={data?.signal.stream.characteristic.code} onChange={(defect) => setParams((now) => { now.set('defect', defect); return now; })} />
      </Stack>
    )} />
  );
}
