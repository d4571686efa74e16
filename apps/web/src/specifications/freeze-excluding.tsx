import { Button, Group, Stack, Text, TextInput } from '@mantine/core';
import { type Dispatch, type SetStateAction, useState } from 'react';
import { useTranslation } from 'react-i18next';
import type { ChartView, LimitsPreview } from '#contract/specifications';
import { useFormat } from '../shared/format.js';
import { exclude, type FreezeDraft, include, isExcluded } from './freeze-draft.js';

type Place = { takenAt: string; sequence: number };
const MOST = 30;

/** Subgroups of the baseline that a rule fired on, or that were chosen in the chart, can be left out: each with its reason. */
export function Excluding({ view: { points }, draft, firings, selected, onDraft }: { view: ChartView; draft: FreezeDraft; firings: LimitsPreview['firings']; selected: number | null; onDraft: Dispatch<SetStateAction<FreezeDraft>> }) {
  const { t } = useTranslation('specifications');
  const format = useFormat();
  const inside = (takenAt: string) => draft.from !== null && draft.to !== null && takenAt >= draft.from && takenAt <= draft.to;
  const chosen: Place[] = selected === null ? [] : [{ takenAt: points.takenAt[selected] ?? '', sequence: points.sequence[selected] ?? 0 }];
  const keyOf = ({ takenAt, sequence }: Place) => `${takenAt}/${sequence}`;
  const seen = new Map<string, string[]>();
  for (const firing of firings) if (firing.inBaseline) seen.set(keyOf(firing), [...(seen.get(keyOf(firing)) ?? []), t(`rules.${firing.rule}`)]);
  const offered = [...new Map([...firings.filter(({ inBaseline }) => inBaseline), ...chosen].map((place) => [keyOf(place), { takenAt: place.takenAt, sequence: place.sequence }])).values()]
    .filter((place) => inside(place.takenAt) && !isExcluded(draft, place)).slice(0, MOST);
  return (
    <Stack gap="xs">
      <Text size="sm">{t('freeze.advice')}</Text>
      {draft.excluded.map((entry) => (
        <Group key={keyOf(entry)} gap="sm"><Text>{t('freeze.excluded')}: {format.dateTime(entry.takenAt)}, {entry.reason}</Text><Button size="sm" variant="default" onClick={() => onDraft((before) => include(before, entry))}>{t('freeze.include')}</Button></Group>
      ))}
      {offered.map((place) => <Offered key={keyOf(place)} what={[format.dateTime(place.takenAt), ...(seen.get(keyOf(place)) ?? [])].join(', ')} onExclude={(reason) => onDraft((before) => exclude(before, { ...place, reason }))} />)}
    </Stack>
  );
}

function Offered({ what, onExclude }: { what: string; onExclude: (reason: string) => void }) {
  const { t } = useTranslation('specifications');
  const [reason, setReason] = useState('');
  return (
    <Group gap="sm" align="flex-end">
      <TextInput size="sm" label={`${what}: ${t('freeze.excludeReason')}`} value={reason} onChange={({ currentTarget: { value } }) => setReason(value)} w={420} />
      <Button size="sm" variant="default" disabled={reason.trim().length < 3} onClick={() => onExclude(reason.trim())} aria-label={`${t('freeze.exclude')}: ${what}`}>{t('freeze.exclude')}</Button>
    </Group>
  );
}
