import { FileInput, Text } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';

/** A field that opens the file dialog, inside an area on which a file can be dropped. */
export function ChooseFile({ busy, onChoose }: { busy: boolean; onChoose: (file: File) => void }) {
  const { t } = useTranslation('ingest');
  const [file, setFile] = useState<File | null>(null);
  const [over, setOver] = useState(false);
  const choose = (chosen: File | null) => {
    setFile(chosen);
    if (chosen) onChoose(chosen);
  };
  return (
    <section
      aria-label={t('drop')}
      style={{ border: `2px dashed ${over ? 'var(--mantine-primary-color-filled)' : 'var(--line)'}`, borderRadius: 8, padding: '1.25rem' }}
      onDragOver={(event) => { event.preventDefault(); setOver(true); }}
      onDragLeave={() => setOver(false)}
      onDrop={(event) => { event.preventDefault(); setOver(false); if (!busy) choose(event.dataTransfer.files[0] ?? null); }}
    >
      <FileInput label={t('choose')} description={t('chooseHint')} accept=".csv,.txt,.tsv,.xlsx,text/csv,text/plain" size="md" placeholder={t('chooseNow')} value={file} onChange={choose} disabled={busy} />
      <Text mt="xs" c="dimmed">{over ? t('dropNow') : t('drop')}</Text>
    </section>
  );
}
