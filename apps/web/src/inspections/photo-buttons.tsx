import { Button, FileButton } from '@mantine/core';
import { useRef } from 'react';
import { useTranslation } from 'react-i18next';
import { PHOTO_TYPES } from './photo-fault.js';

/** The camera where the device has one, and the pictures that are there already. `can`: number of the can that they show. */
export function PhotoButtons({ can, busy, onFiles }: { can: number | null; busy: boolean; onFiles: (files: File[]) => void }) {
  const { t } = useTranslation('photos');
  const [forgetTaken, forgetChosen] = [useRef<() => void>(null), useRef<() => void>(null)];
  // Forgotten at once: a browser says nothing when the same picture is chosen again, as after it was taken away.
  const hand = (files: File[], forget: typeof forgetTaken) => { if (files.length > 0) onFiles(files); forget.current?.(); };
  return (
    <>
      <FileButton accept={PHOTO_TYPES} capture="environment" resetRef={forgetTaken} onChange={(file) => hand(file ? [file] : [], forgetTaken)}>{(props) => <Button {...props} size="md" variant="default" loading={busy}>{can === null ? t('take') : t('takeOf', { number: can })}</Button>}</FileButton>
      <FileButton multiple accept={PHOTO_TYPES} resetRef={forgetChosen} onChange={(files) => hand(files, forgetChosen)}>{(props) => <Button {...props} size="md" variant="default" loading={busy}>{can === null ? t('choose') : t('chooseOf', { number: can })}</Button>}</FileButton>
    </>
  );
}
