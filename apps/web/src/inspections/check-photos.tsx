import { Anchor, Group, Image, List, NativeSelect, SimpleGrid, Text, Title } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { getCheckPhoto } from '#contract/check-photos';
import type { CheckView } from '#contract/inspections';
import { correctors, recorders } from '#contract/roles';
import { useFormat } from '../shared/format.js';
import { address } from '../shared/http.js';
import { ProblemList } from '../shared/problem-list.js';
import { ReasonButton } from '../shared/reason-button.js';
import { useMay } from '../shared/session.js';
import { PhotoButtons } from './photo-buttons.js';
import { inMegabytes, photoFault } from './photo-fault.js';
import { useAddCheckPhotos, useRemoveCheckPhoto } from './photo-queries.js';

/** The photos of a stored check, and the way to add one that was taken later. */
export function CheckPhotos({ check }: { check: CheckView }) {
  const { t } = useTranslation('photos');
  const format = useFormat();
  const [add, remove] = [useAddCheckPhotos(check.id), useRemoveCheckPhoto(check.id)];
  const mayAdd = useMay(recorders) && check.voidedAt === null;
  const mayRemove = useMay(correctors);
  const [can, setCan] = useState<number | null>(null);
  const [faults, setFaults] = useState<string[]>([]);
  if (check.photos.length === 0 && !mayAdd) return null;
  const canWords = (index: number | null) => (index === null ? t('ofNone') : t('ofCan', { number: check.cans[index]?.number ?? index + 1 }));
  const onFiles = (files: File[]) => {
    setFaults(files.flatMap((file) => { const fault = photoFault(file); return fault === null ? [] : [t(`refused.${fault}`, { name: file.name, size: inMegabytes(file.size) })]; }));
    const good = files.filter((file) => photoFault(file) === null);
    if (good.length > 0) add.mutate({ files: good, can });
  };
  return (
    <section aria-labelledby="photos-title">
      <Title order={2} size="h4" id="photos-title" mb="xs">{t('title')}</Title>
      {check.photos.length === 0 ? <Text c="dimmed" mb="xs">{t('none')}</Text> : (
        <SimpleGrid cols={{ base: 1, xs: 2, md: 4 }} mb="xs">
          {check.photos.map((photo, place) => {
            const source = address(getCheckPhoto, { params: { id: check.id, photoId: photo.id } });
            const words = { number: place + 1, name: photo.fileName, can: canWords(photo.can), who: photo.addedBy, at: format.dateTime(photo.addedAt) };
            return (
              <figure key={photo.id} style={{ margin: 0 }}>
                <Anchor href={source} target="_blank" rel="noreferrer"><Image src={source} alt={t('alt', words)} radius="md" mah={220} fit="contain" loading="lazy" /></Anchor>
                <Text component="figcaption" size="sm" c="dimmed">{t('captionWho', words)}</Text>
                {mayRemove ? <ReasonButton label={t('dropShort')} name={t('drop', words)} question={t('removeWhy')} act={t('removeDo')} busy={remove.isPending} onDo={(reason, done) => remove.mutate({ photoId: photo.id, reason }, { onSuccess: done })} /> : null}
              </figure>
            );
          })}
        </SimpleGrid>
      )}
      {mayAdd ? (
        <Group gap="sm" align="flex-end">
          <NativeSelect size="md" label={t('can')} value={can === null ? '' : String(can)} onChange={(event) => setCan(event.currentTarget.value === '' ? null : Number(event.currentTarget.value))} data={[{ value: '', label: t('anyCan') }, ...check.cans.map(({ number }, index) => ({ value: String(index), label: t('ofCan', { number }) }))]} />
          <PhotoButtons can={null} busy={add.isPending} onFiles={onFiles} />
        </Group>
      ) : null}
      <Text size="sm" c="dimmed">{t('hint')}{mayRemove && check.photos.length > 0 ? ` ${t('removeNote')}` : null}</Text>
      {faults.length > 0 ? <List role="alert" size="sm">{faults.map((fault) => <List.Item key={fault}>{fault}</List.Item>)}</List> : null}
      <ProblemList error={add.error ?? remove.error} />
    </section>
  );
}
