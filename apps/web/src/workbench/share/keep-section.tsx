import { Button, Group, Stack, Text, TextInput } from '@mantine/core';
import { useClipboard } from '@mantine/hooks';
import { useEffect, useState } from 'react';
import { useTranslation } from 'react-i18next';
import type { WorkbenchState } from '../choices.js';
import type { Ground } from '../results/panel-words.js';
import type { ChartAnswer } from '../results/workbench-chart.figure.js';
import { Section } from '../section.js';
import { offerFile } from './offer-file.js';
import { MOST_CHARACTERS, packState } from './pack-state.js';
import { pointsCsv } from './points-csv.js';

/** A text of this size never fits: deflated readings take more than a twentieth of it. */
const HOPELESS = 600_000;

type Props = { state: WorkbenchState; chart: ChartAnswer | undefined; answers: Record<string, unknown>; ground: Ground; onAddress: (packed: string) => void };

/** Ways to take it along: an address that holds the data, and files with the numbers. Neither sends anything anywhere. */
export function KeepSection({ state, chart, answers, ground, onAddress }: Props) {
  const { t } = useTranslation('workbench');
  const clipboard = useClipboard();
  const [packed, setPacked] = useState<string | null>(null);
  const [made, setMade] = useState<string | null>(null);
  const hopeless = state.text.length > HOPELESS;
  useEffect(() => {
    setPacked(null);
    setMade(null);
    if (hopeless) return undefined;
    let gone = false;
    const later = setTimeout(() => void packState(state).then((text) => { if (!gone) setPacked(text); }), 300);
    return () => { gone = true; clearTimeout(later); };
  }, [state, hopeless]);
  const fits = packed !== null && packed.length <= MOST_CHARACTERS;
  const make = () => {
    if (packed === null) return;
    onAddress(packed);
    setMade(packed);
  };
  const address = made === null ? null : `${window.location.origin}${window.location.pathname}#data=${made}`;
  const file = t('download.file');
  const points = () => { if (chart) offerFile(`${file}.csv`, 'text/csv', pointsCsv(chart, ground.names, { point: t('download.heading.point'), name: t('download.heading.name'), panel: t('download.heading.panel'), value: t('download.heading.value'), centre: t('download.heading.centre'), lower: t('download.heading.lower'), upper: t('download.heading.upper'), sigma: t('download.heading.sigma'), signals: t('download.heading.signals') }, (statistic) => t(`chart.statistic.${statistic}`))); };
  return (
    <Section title={t('share.title')}>
      <Group gap="sm">
        <Button variant="default" size="md" disabled={!fits} aria-describedby="share-text" onClick={make}>{t('share.button')}</Button>
        <Button variant="default" size="md" disabled={!chart} onClick={points}>{t('download.points')}</Button>
        <Button variant="default" size="md" disabled={!chart} onClick={() => offerFile(`${file}.json`, 'application/json', JSON.stringify({ choices: state.choices, answers }, null, 1))}>{t('download.answers')}</Button>
      </Group>
      <Text size="sm" id="share-text">{hopeless ? t('share.tooMuch') : packed !== null && !fits ? t('share.tooLong', { count: packed.length }) : t('share.text')}</Text>
      {address === null ? null : (
        <Stack gap="xs">
          <Text role="status">{t('share.ready', { count: address.length })}</Text>
          <TextInput label={t('share.field')} size="sm" readOnly value={address} onFocus={({ currentTarget }) => currentTarget.select()} />
          <Group><Button variant="default" size="sm" onClick={() => clipboard.copy(address)}>{clipboard.copied ? t('share.copied') : t('share.copy')}</Button>{clipboard.error ? <Text size="sm" role="alert">{t('share.noCopy')}</Text> : null}</Group>
        </Stack>
      )}
    </Section>
  );
}
