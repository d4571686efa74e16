import { Fieldset, Group, Stack, TextInput, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { type EntryDraft, readCount, type Sheet } from './entry-draft.js';

/** Attributes: how many were looked at, and how many of them were not as they should be. */
export function EntryCounts({ sheet, draft, onCount }: { sheet: Sheet; draft: EntryDraft; onCount: (code: string, count: EntryDraft['counts'][string]) => void }) {
  const { t } = useTranslation('entry');
  if (sheet.counted.length === 0) return null;
  return (
    <section aria-labelledby="counts-title">
      <Title order={2} size="h4" id="counts-title" mb="xs">{t('counts.title')}</Title>
      <Stack gap="sm">
        {sheet.counted.map(({ code, name, unit }) => {
          const count = draft.counts[code] ?? { inspected: '', nonconforming: '' };
          const wrong = readCount(draft.counts[code]) === 'wrong' && count.inspected !== '' && count.nonconforming !== '';
          return (
            <Fieldset key={code} legend={t('counts.of', { name, unit })}>
              <Group align="flex-start">
                {(['inspected', 'nonconforming'] as const).map((what) => (
                  <TextInput key={what} size="md" w={200} inputMode="numeric" autoComplete="off" label={t(`counts.${what}`)} value={count[what]} maxLength={7} error={wrong && what === 'nonconforming' ? t('counts.wrong') : null} onChange={(event) => onCount(code, { ...count, [what]: event.currentTarget.value })} />
                ))}
              </Group>
            </Fieldset>
          );
        })}
      </Stack>
    </section>
  );
}
