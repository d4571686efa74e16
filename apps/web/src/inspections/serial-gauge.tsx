import { Button, Group, NumberInput, Stack, TextInput } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import type { EntrySettings } from './entry-settings.js';
import { isPattern } from './gauge-line.js';
import type { GaugeEntry } from './use-gauge-entry.js';

/** Connects a serial gauge, and says how it is spoken to. For browsers that have Web Serial. What it sends is told beside the cell being entered. */
export function SerialGauge({ gauge: { state, connect, disconnect }, settings, onSettings }: { gauge: GaugeEntry; settings: EntrySettings; onSettings: (change: Partial<EntrySettings>) => void }) {
  const { t } = useTranslation('entry');
  const wrong = settings.serialPattern !== '' && !isPattern(settings.serialPattern);
  return (
    <details className="gauges">
      <summary>{t('serial.title', { state: t(`serial.states.${state}`) })}</summary>
      <Stack gap="sm">
        <Group align="flex-start">
          <NumberInput size="md" w={180} label={t('serial.baud')} min={300} max={921_600} allowDecimal={false} value={settings.serialBaud} disabled={state === 'on'} onChange={(value) => { if (typeof value === 'number' && value >= 300 && value <= 921_600) onSettings({ serialBaud: value }); }} />
          <TextInput size="md" flex={1} miw={260} maxLength={200} label={t('serial.pattern')} description={t('serial.patternHelp')} error={wrong ? t('serial.patternWrong') : null} value={settings.serialPattern} onChange={(event) => onSettings({ serialPattern: event.currentTarget.value })} />
        </Group>
        {state === 'on' ? <Button size="md" variant="default" style={{ alignSelf: 'flex-start' }} onClick={disconnect}>{t('serial.disconnect')}</Button> : <Button size="md" variant="default" style={{ alignSelf: 'flex-start' }} loading={state === 'opening'} disabled={wrong} onClick={connect}>{t('serial.connect')}</Button>}
      </Stack>
    </details>
  );
}
