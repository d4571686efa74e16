import { Anchor, FileButton, Button, Group, Image, SimpleGrid, Text, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { getIncidentPhoto, type Incident } from '#contract/incidents';
import { investigators } from '#contract/roles';
import { useFormat } from '../shared/format.js';
import { address } from '../shared/http.js';
import { ProblemList } from '../shared/problem-list.js';
import { useMay } from '../shared/session.js';
import { useRemovePhoto } from './incident-life.queries.js';
import { useAddPhotos } from './incidents.queries.js';
import { ReasonButton } from '../shared/reason-button.js';

export function IncidentPhotos({ incident }: { incident: Incident }) {
  const { t } = useTranslation('incidents');
  const format = useFormat();
  const { t: life } = useTranslation('incidentLife');
  const [add, remove] = [useAddPhotos(incident.id), useRemovePhoto(incident.id)];
  const mayAdd = useMay(investigators);
  return (
    <section>
      <Group pb="xs">
        <Title order={2} size="h4">{t('photos.title')}</Title>
        {mayAdd ? <FileButton multiple accept="image/jpeg,image/png,image/webp" onChange={(files) => { if (files.length > 0) add.mutate(files); }}>{(props) => <Button {...props} variant="default" loading={add.isPending}>{t('photos.add')}</Button>}</FileButton> : null}
        <Text size="sm" c="dimmed">{t('form.photosHint')}</Text>
      </Group>
      <ProblemList error={add.error ?? remove.error} />
      {incident.photoList.length === 0 ? <Text c="dimmed">{t('photos.none')}</Text> : (
        <SimpleGrid cols={{ base: 1, xs: 2, md: 4 }}>
          {incident.photoList.map((photo, place) => {
            const words = { name: photo.fileName, who: photo.addedBy, at: format.dateTime(photo.addedAt) };
            const source = address(getIncidentPhoto, { params: { id: incident.id, photoId: photo.id } });
            return (
              <figure key={photo.id} style={{ margin: 0 }}>
                <Anchor href={source} target="_blank" rel="noreferrer"><Image src={source} alt={t('photos.alt', { ...words, number: place + 1, id: incident.id })} radius="md" mah={220} fit="contain" loading="lazy" /></Anchor>
                <Text component="figcaption" size="sm" c="dimmed">{t('photos.caption', words)}</Text>
                {mayAdd ? <ReasonButton label={life('links.unlink')} name={life('links.removePhoto', { name: photo.fileName })} question={life('links.reason')} act={life('links.do')} busy={remove.isPending} onDo={(reason, done) => remove.mutate({ photoId: photo.id, reason }, { onSuccess: done })} /> : null}
              </figure>
            );
          })}
        </SimpleGrid>
      )}
    </section>
  );
}
