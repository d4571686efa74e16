import { Anchor, Text } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useTranslation } from 'react-i18next';
import { getBodiesCsv, listBodies, MOST_BODY_DAYS } from '#contract/every-body';
import type { StreamListed } from '#contract/specifications';
import { useFormat } from '../shared/format.js';
import { address, call } from '../shared/http.js';

const MINUTE_MS = 60_000;

/** The way to the every-body readings behind the shown span; absent where the machine has no monitor. */
export function EveryBody({ stream, first, last }: { stream: StreamListed; first: string; last: string }) {
  const { t } = useTranslation('specifications');
  const format = useFormat();
  // A subgroup stands at its last body: its minute belongs to the span, and of a longer span the end is offered.
  const to = new Date(new Date(last).getTime() + MINUTE_MS).toISOString();
  const from = new Date(Math.max(new Date(first).getTime() - MINUTE_MS, new Date(to).getTime() - MOST_BODY_DAYS * 86_400_000)).toISOString();
  const query = { machine: stream.machine.id, characteristic: stream.characteristic.id, product: stream.product.id, ...(stream.unit ? { unit: stream.unit.id } : {}), ...(stream.lane ? { lane: stream.lane.id } : {}), from, to };
  const any = useQuery({ queryKey: ['every-body', query], queryFn: ({ signal }) => call(listBodies, { query: { ...query, take: 1 }, signal }), staleTime: 60_000, retry: false });
  if (!any.data || any.data.minutes.length === 0) return null;
  return <Text size="sm" className="no-print">{t('everyBody.text')} <Anchor href={address(getBodiesCsv, { query })} download>{t('everyBody.csv', { from: format.dateTime(from), to: format.dateTime(to) })}</Anchor></Text>;
}
