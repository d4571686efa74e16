import { Button, FileButton } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { PHOTO_TYPES } from './photo-fault.js';

/** The camera where the device has one, and the pictures that are there already. `can`: number of the can that they show. */
export function PhotoButtons({ can, busy, onFiles }: { can: number | null; busy: boolean; onFiles: (files: File[]) => void }) {
  const { t } = useTranslation('photos');
  return (
    <>
      <FileButton accept={PHOTO_TYPES} capture="environment" onChange={(file) => { if (file) onFiles([file]); }}>{(props) => <Button {...props} size="md" variant="default" loading={busy}>{can === null ? t('take') : t('takeOf', { number: can })}</Button>}</FileButton>
      <FileButton multiple accept={PHOTO_TYPES} onChange={(files) => { if (files.length > 0) onFiles(files); }}>{(props) => <Button {...props} size="md" variant="default" loading={busy}>{can === null ? t('choose') : t('chooseOf', { number: can })}</Button>}</FileButton>
    </>
  );
}
