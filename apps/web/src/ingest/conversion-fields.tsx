import { Button, Group, Stack, Text, TextInput } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { type ConversionDraft, factorOf } from './conversions.js';

/** Units of measure that the file has and we keep otherwise: nothing is converted unless a person says how. */
export function ConversionFields({ drafts, onChange }: { drafts: readonly ConversionDraft[]; onChange: (drafts: ConversionDraft[]) => void }) {
  const { t } = useTranslation('ingest');
  const change = (id: number, part: Partial<ConversionDraft>) => onChange(drafts.map((draft) => (draft.id === id ? { ...draft, ...part } : draft)));
  const next = Math.max(-1, ...drafts.map((draft) => draft.id)) + 1;
  return (
    <Stack gap="xs">
      {drafts.length === 0 ? null : <Text size="sm">{t('conversions.text')}</Text>}
      {drafts.map((draft) => (
        <Group key={draft.id} align="flex-end">
          <TextInput label={t('conversions.from')} w={110} maxLength={20} value={draft.from} onChange={(event) => change(draft.id, { from: event.currentTarget.value })} />
          <TextInput label={t('conversions.factor')} w={150} inputMode="decimal" value={draft.factor} error={draft.factor !== '' && factorOf(draft.factor) === null ? t('conversions.factorExpected') : undefined} onChange={(event) => change(draft.id, { factor: event.currentTarget.value })} />
          <TextInput label={t('conversions.to')} w={110} maxLength={20} value={draft.to} onChange={(event) => change(draft.id, { to: event.currentTarget.value })} />
          <Button variant="default" aria-label={t('conversions.removeOf', { from: draft.from, to: draft.to })} onClick={() => onChange(drafts.filter((other) => other.id !== draft.id))}>{t('conversions.remove')}</Button>
        </Group>
      ))}
      <Group><Button variant="default" onClick={() => onChange([...drafts, { id: next, from: '', to: '', factor: '' }])} disabled={drafts.length >= 20}>{t('conversions.add')}</Button></Group>
    </Stack>
  );
}
