import { Button, Group, NumberInput, Stack, Text, TextInput } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import type { EntrySettings } from './entry-settings.js';
import type { Sheet } from './entry-draft.js';
import { useNameOf } from './cell-name.js';
import { cellAt, cellId, placeOf } from './entry-grid.js';
import { isPattern, readGaugeLine } from './gauge-line.js';
import type { GridCell } from './grid-moves.js';
import { typedIn, typeWhole } from './number-pad.js';
import { useSerialGauge } from './use-serial-gauge.js';

/**
 * A serial gauge that types into the cell with the focus, or into the last chosen one where that is still empty: a reading that is there is replaced only by
 * a person's choice of its cell. For browsers that have Web Serial.
 */
export function SerialGauge({ sheet, active, paused, settings, onSettings }: { sheet: Sheet; active: GridCell | null; /** A dialog is open before the grid. */ paused: boolean; settings: EntrySettings; onSettings: (change: Partial<EntrySettings>) => void }) {
  const { t } = useTranslation('entry');
  const nameOf = useNameOf(sheet);
  const [said, setSaid] = useState('');
  const onLine = (line: string) => {
    if (paused) { setSaid(t('serial.paused')); return; }
    // Of two lines that come at once the second goes where the first one led, which is not drawn yet.
    const focused = typedIn();
    const cell = focused ? cellAt(focused) : active;
    const at = cell ? placeOf(sheet, cell) : null;
    const input = focused ?? (at ? document.getElementById(cellId(at.entry.code, at.place)) : null);
    if (!at || !(input instanceof HTMLInputElement)) { setSaid(t('serial.noCell')); return; }
    if (!focused && input.value.trim() !== '') { setSaid(t('serial.taken', { cell: nameOf(at.entry.code, at.place) })); return; }
    const answer = readGaugeLine(line, at.entry, settings.serialPattern);
    if (answer.is === 'fault') { setSaid(t(`serial.faults.${answer.what}`, { line: answer.line, unit: at.entry.unit })); return; }
    setSaid(t('serial.took', { cell: nameOf(at.entry.code, at.place), value: answer.text, unit: at.entry.unit }));
    typeWhole(input, answer.text);
  };
  const { state, connect, disconnect } = useSerialGauge(settings.serialBaud, onLine);
  const wrong = settings.serialPattern !== '' && !isPattern(settings.serialPattern);
  return (
    <Stack gap="xs">
      <details className="gauges">
        <summary>{t('serial.title', { state: t(`serial.states.${state}`) })}</summary>
        <Stack gap="sm">
          <Group align="flex-start">
            <NumberInput size="md" w={180} label={t('serial.baud')} min={300} max={921_600} allowDecimal={false} value={settings.serialBaud} disabled={state === 'on'} onChange={(value) => { if (typeof value === 'number' && value >= 300 && value <= 921_600) onSettings({ serialBaud: value }); }} />
            <TextInput size="md" flex={1} miw={260} maxLength={200} label={t('serial.pattern')} description={t('serial.patternHelp')} error={wrong ? t('serial.patternWrong') : null} value={settings.serialPattern} onChange={(event) => onSettings({ serialPattern: event.currentTarget.value })} />
          </Group>
          <Group>
            {state === 'on' ? <Button size="md" variant="default" onClick={disconnect}>{t('serial.disconnect')}</Button> : <Button size="md" variant="default" loading={state === 'opening'} disabled={wrong} onClick={connect}>{t('serial.connect')}</Button>}
          </Group>
        </Stack>
      </details>
      <Text role="status">{state === 'failed' || state === 'denied' || state === 'lost' ? t(`serial.${state}`) : said}</Text>
    </Stack>
  );
}
