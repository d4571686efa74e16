import { Anchor, Group, Text, Title } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import { listHolds } from '#contract/holds';
import { investigators } from '#contract/roles';
import { call } from './http.js';
import { useMay } from './session.js';
import { StateBadge } from './state-badge.js';

/** What a new hold is prefilled with; null where it is not known. */
export type HoldPlace = { lineId: number; stepId?: number | null; machineId?: number; unitId?: number | null; laneId?: number | null; from?: string | null; until?: string | null };

/** The holds that were placed for a signal or an incident, and the way to another one. */
export function HoldsOf({ of, place }: { of: { incidentId: number } | { signalId: number }; place: HoldPlace }) {
  const { t } = useTranslation('holds');
  const holds = useQuery({ queryKey: ['holds', of], queryFn: ({ signal }) => call(listHolds, { query: of, signal }) });
  const mayPlace = useMay(investigators);
  const address = new URLSearchParams(Object.entries({ ...place, ...of }).flatMap(([name, value]) => (value === null || value === undefined ? [] : [[name, String(value)]])));
  const rows = holds.data?.rows ?? [];
  return (
    <section>
      <Title order={2} size="h4" pb="xs">{t('title')}</Title>
      <Group gap="md">
        {rows.map((row) => <Group key={row.id} gap="xs"><Anchor component={Link} to={`/holds/${row.id}`} underline="always">{t('list.name', { id: row.id })}</Anchor><StateBadge state={row.state === 'decided' ? 'steady' : row.state === 'withdrawn' ? 'not-judged' : 'held'} word={row.disposition === null ? t(`state.${row.state}`) : t(`disposition.${row.disposition}`)} /></Group>)}
        {holds.data && rows.length === 0 ? <Text>{t('of.none')}</Text> : null}
        {mayPlace ? <Anchor component={Link} to={`/holds/new?${address}`} underline="always">{t('of.place')}</Anchor> : null}
      </Group>
    </section>
  );
}
