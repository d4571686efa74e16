import { Button, Group, List, Text } from '@mantine/core';
import { useEffect, useState } from 'react';
import { useTranslation } from 'react-i18next';
import { MOST_PHOTOS } from '#contract/check-photos';
import { usePerson } from '../shared/session.js';
import { BlobImage } from './blob-image.js';
import type { Sheet } from './entry-draft.js';
import { PhotoButtons } from './photo-buttons.js';
import { inMegabytes, photoFault } from './photo-fault.js';
import { useEntryPhotos } from './photo-queries.js';
import { dropPhotos, keepPhoto } from './photo-store.js';

/** Photos of sections while a check is entered: kept in this browser at once, sent after their check. `row`: index of the can that is being entered. None is taken while the check is `sending`: it would miss it. */
export function EntryPhotos({ sheet, checkKey, row, sending, onCount }: { sheet: Sheet; checkKey: string; row: number | null; sending: boolean; onCount: (count: number) => void }) {
  const { t } = useTranslation('photos');
  const person = usePerson();
  const { data: photos, isSuccess } = useEntryPhotos(checkKey);
  const [busy, setBusy] = useState(false);
  const [faults, setFaults] = useState<string[]>([]);
  const count = photos?.length ?? 0;
  useEffect(() => { if (isSuccess) onCount(count); }, [isSuccess, count, onCount]);
  const canWords = (can: number | null) => (can === null ? t('ofNone') : t('ofCan', { number: sheet.cans[can]?.number ?? can + 1 }));
  const add = async (files: File[]) => {
    setBusy(true);
    const said: string[] = [];
    for (const [index, file] of files.entries()) {
      const fault = count + index >= MOST_PHOTOS ? 'many' : photoFault(file);
      if (fault !== null) { said.push(t(`refused.${fault}`, { name: file.name, size: inMegabytes(file.size), count: MOST_PHOTOS })); continue; }
      try {
        await keepPhoto({ key: checkKey, personId: person.id, can: row, fileName: file.name, blob: file, addedAt: new Date().toISOString() });
      } catch {
        said.push(t('refused.storage', { name: file.name }));
      }
    }
    setFaults(said);
    setBusy(false);
  };
  return (
    <section aria-label={t('title')}>
      <Group gap="sm"><PhotoButtons can={row === null ? null : sheet.cans[row]?.number ?? null} busy={busy || sending} onFiles={(files) => void add(files)} /></Group>
      {faults.length > 0 ? <List role="alert" size="sm">{faults.map((fault) => <List.Item key={fault}>{fault}</List.Item>)}</List> : null}
      {count === 0 ? null : (
        <>
          <Group gap="md" mt="xs" align="flex-start">
            {photos?.map((photo, place) => {
              const words = { number: place + 1, name: photo.fileName, can: canWords(photo.can) };
              return (
                <figure key={photo.place} style={{ margin: 0, maxWidth: 200 }}>
                  <BlobImage blob={photo.blob} alt={t('alt', words)} />
                  <Text component="figcaption" size="sm" c="dimmed">{t('caption', words)}</Text>
                  <Button size="md" variant="subtle" aria-label={t('drop', words)} onClick={() => void dropPhotos([photo.place])}>{t('dropShort')}</Button>
                </figure>
              );
            })}
          </Group>
          <Text size="sm" c="dimmed">{t('onCheck')} {t('hint')}</Text>
        </>
      )}
    </section>
  );
}
