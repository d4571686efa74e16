import { Group, NativeSelect, Text } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import type { Choices } from './choices.js';
import { DELIMITERS, type Delimiter } from './read/guess-layout.js';
import type { DataTable } from './read/read-table.js';

const GUESS = 'guess';

/** What was guessed of how the text is written, each to be changed. */
export function DataLayout({ table: { layout, doubtful }, choices, onChange }: { table: DataTable; choices: Choices; onChange: (change: Partial<Choices>) => void }) {
  const { t } = useTranslation('workbench');
  const guessed = (value: string) => ({ value: GUESS, label: t('data.guessed', { value }) });
  const headerName = (isHeader: boolean) => t(`data.headers.${isHeader ? 'yes' : 'no'}`);
  return (
    <>
      <Group gap="sm" align="flex-end" role="group" aria-label={t('data.layout')}>
        <NativeSelect label={t('data.delimiter')} size="sm" value={choices.delimiter ?? GUESS}
          data={[guessed(t(`data.delimiters.${layout.delimiter}`)), ...(Object.keys(DELIMITERS) as Delimiter[]).map((value) => ({ value, label: t(`data.delimiters.${value}`) }))]}
          onChange={({ currentTarget: { value } }) => onChange({ delimiter: value === GUESS ? undefined : value as Delimiter })} />
        <NativeSelect label={t('data.decimal')} size="sm" value={choices.decimal ?? GUESS}
          data={[guessed(t(`data.decimals.${layout.decimal}`)), ...(['.', ','] as const).map((value) => ({ value, label: t(`data.decimals.${value}`) }))]}
          onChange={({ currentTarget: { value } }) => onChange({ decimal: value === '.' || value === ',' ? value : undefined })} />
        <NativeSelect label={t('data.header')} size="sm" value={choices.header === undefined ? GUESS : choices.header ? 'yes' : 'no'}
          data={[guessed(headerName(layout.header)), { value: 'yes', label: headerName(true) }, { value: 'no', label: headerName(false) }]}
          onChange={({ currentTarget: { value } }) => onChange({ header: value === GUESS ? undefined : value === 'yes' })} />
      </Group>
      {doubtful ? <Text role="status" size="sm">{t('data.doubtful')}</Text> : null}
    </>
  );
}
