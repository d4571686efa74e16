import { Button, Group, Modal, Stack, Text, TextInput } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { useTranslation } from 'react-i18next';
import { meantText, readCell } from './cell-typing.js';
import type { Measured } from './entry-draft.js';

/** A second measurement of one cell. The first stays the reading that is judged; both are kept. */
export function SecondDialog({ entry, cell, first, second, onClose, onKeep }: { entry: Measured; cell: string; first: string; second: string; onClose: () => void; onKeep: (text: string) => void }) {
  const { t } = useTranslation('entry');
  const [text, setText] = useState(second);
  const read = readCell(text, entry);
  const keep = (event: FormEvent) => { event.preventDefault(); event.stopPropagation(); if (read !== 'unreadable') onKeep(meantText(text, entry)); };
  return (
    <Modal opened onClose={onClose} title={t('second.title')} closeButtonProps={{ 'aria-label': t('second.close'), size: 44 }}>
      <form onSubmit={keep}>
        <Stack>
          <Text>{cell}</Text>
          <Text>{t('second.first', { value: meantText(first, entry), unit: entry.unit })}</Text>
          <TextInput size="lg" data-autofocus inputMode="decimal" autoComplete="off" label={t('second.label', { unit: entry.unit })} value={text} error={read === 'unreadable' ? t('second.unreadable') : null} description={read === null || read === 'unreadable' ? t('second.empty') : t('second.counts', { value: meantText(text, entry), unit: entry.unit })} onChange={(event) => setText(event.currentTarget.value)} />
          <Text size="sm" c="dimmed">{t('second.rule')}</Text>
          <Group><Button size="md" type="submit">{t('second.keep')}</Button><Button size="md" variant="default" onClick={onClose}>{t('second.close')}</Button></Group>
        </Stack>
      </form>
    </Modal>
  );
}
