import { Button, FileInput, Group, Text, Textarea } from '@mantine/core';
import { useId, useState } from 'react';
import { useTranslation } from 'react-i18next';
import { Loading } from '../shared/states.js';
import { DataLayout } from './data-layout.js';
import { DataPreview } from './data-preview.js';
import type { Choices } from './choices.js';
import { readFile, type TableState } from './read/use-table.js';
import { Section } from './section.js';

/** A longer text is shown by its size: a text area with a million lines freezes the page. */
const EDITABLE = 100_000;

type Props = { text: string; source: string | null; table: TableState; choices: Choices; onText: (text: string, source: string | null) => void; onChoices: (change: Partial<Choices>) => void; onExample: () => void };

export function DataInput({ text, source, table, choices, onText, onChoices, onExample }: Props) {
  const { t } = useTranslation('workbench');
  const fault = useId();
  const [over, setOver] = useState(false);
  const [opening, setOpening] = useState(false);
  const [refused, setRefused] = useState<'too-large' | 'no-sheet' | 'not-text' | null>(null);
  const open = async (file: File | null) => {
    if (!file || opening) return;
    setOpening(true);
    const read = await readFile(file).catch(() => ({ fault: 'not-text' as const }));
    setOpening(false);
    setRefused('fault' in read ? read.fault : null);
    if ('text' in read) onText(read.text, file.name);
  };
  const share = table.state === 'reading' ? Math.round(table.share * 100) : null;
  return (
    <Section title={t('data.title')}>
      {text.length > EDITABLE ? <Text>{t('data.large', { source: source ?? t('data.pasted'), size: text.length.toLocaleString('en-GB') })}</Text> : (
        <Textarea label={t('data.paste')} description={t('data.pasteHint')} size="md" minRows={6} maxRows={12} autosize value={text} spellCheck={false} styles={{ input: { fontVariantNumeric: 'tabular-nums', whiteSpace: 'pre', overflowX: 'auto' } }}
          onChange={({ currentTarget: { value } }) => onText(value, null)}
          onPaste={(event) => {
            const pasted = event.clipboardData.getData('text');
            if (pasted.length > EDITABLE) { event.preventDefault(); onText(pasted, null); }
          }} />
      )}
      <section
        aria-label={t('data.file')} style={{ border: `2px dashed ${over ? 'var(--mantine-primary-color-filled)' : 'var(--line)'}`, borderRadius: 8, padding: '0.75rem' }}
        onDragOver={(event) => { event.preventDefault(); setOver(true); }} onDragLeave={() => setOver(false)} onDrop={(event) => { event.preventDefault(); setOver(false); void open(event.dataTransfer.files[0] ?? null); }}
      >
        <FileInput label={t('data.file')} description={over ? t('data.dropNow') : t('data.fileHint')} accept=".csv,.txt,.tsv,.xlsx,text/csv,text/plain" size="md" value={null} placeholder={source ?? t('data.choose')} onChange={(file) => void open(file)} disabled={opening} />
      </section>
      {opening ? <Loading what={t('data.opening')} /> : null}
      {refused ? <Text role="alert" c="var(--mantine-color-error)" id={fault}>{`${t(`data.faults.${refused}`)} ${text === '' ? '' : t('data.kept')}`}</Text> : null}
      {share === null ? null : <Text role="status">{t('data.reading', { percent: share })}</Text>}
      {table.state === 'refused' ? <Text role="alert" c="var(--mantine-color-error)">{t(`data.faults.${table.fault.code}`, { found: ('found' in table.fault ? table.fault.found : undefined) ?? 0, line: ('line' in table.fault ? table.fault.line : undefined) ?? '?' })}</Text> : null}
      {table.state === 'empty' ? <Group><Text c="dimmed">{t('data.none')}</Text><Button variant="default" size="md" onClick={onExample}>{t('example')}</Button></Group> : null}
      {table.state === 'read' ? <><DataLayout table={table.table} choices={choices} onChange={onChoices} /><DataPreview table={table.table} /></> : null}
      {text === '' ? null : <Group><Button variant="default" size="sm" onClick={() => onText('', null)}>{t('clear')}</Button></Group>}
    </Section>
  );
}
