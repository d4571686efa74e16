import { Button, Group, Stack, Text, Title } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { ProblemError } from '../shared/http.js';
import { ProblemList } from '../shared/problem-list.js';
import { saveBlob } from '../shared/save-blob.js';
import { usePerson } from '../shared/session.js';
import { usePhotosOnTheirWay } from './photo-queries.js';
import { dropPhotos, type KeptPhoto, setRefused } from './photo-store.js';
import { runPhotos } from './queue-runner.js';

/** Photos whose check is stored and that still wait, and those that were refused. Absent while there is none. */
export function PhotosOnTheirWay() {
  const { t } = useTranslation('photos');
  const photos = usePhotosOnTheirWay(usePerson().id).data ?? [];
  if (photos.length === 0) return null;
  return (
    <section aria-labelledby="photos-way-title">
      <Stack gap="sm">
        <Title order={2} size="h4" id="photos-way-title">{t('way.title')}</Title>
        <ul className="queue-list">{photos.map((photo) => <PhotoRow key={photo.place} photo={photo} />)}</ul>
      </Stack>
    </section>
  );
}

function PhotoRow({ photo }: { photo: KeptPhoto }) {
  const { t } = useTranslation('photos');
  const person = usePerson();
  const [sure, setSure] = useState(false);
  const held = photo.refused !== null || photo.checkId === null;
  return (
    <li className="queue-row" data-state={held ? 'needs-you' : 'waiting'}>
      <Group justify="space-between" gap="md">
        <Text fw={600}>{photo.checkId === null ? t('way.lost', { name: photo.fileName }) : t('way.of', { name: photo.fileName, id: photo.checkId })}</Text>
        {photo.checkId === null ? null : <Text fw={600}>{t(photo.refused ? 'way.refused' : 'way.waiting')}</Text>}
      </Group>
      {photo.refused ? <ProblemList error={new ProblemError(photo.refused)} /> : null}
      {held ? (
        <Group gap="sm">
          <Button size="md" variant="default" onClick={() => saveBlob(photo.blob, photo.fileName)}>{t('way.save')}</Button>
          {photo.refused ? <Button size="md" variant="default" onClick={() => void setRefused(photo.place, null).then(() => runPhotos(person.id))}>{t('way.again')}</Button> : null}
          {sure ? <Button size="md" variant="default" onClick={() => void dropPhotos([photo.place])}>{t('way.sure')}</Button> : <Button size="md" variant="default" onClick={() => setSure(true)}>{t('way.discard')}</Button>}
        </Group>
      ) : null}
    </li>
  );
}
