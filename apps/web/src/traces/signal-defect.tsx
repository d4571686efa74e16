import { NativeSelect, Stack, Text } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { defectsShownBy } from '#canmaking/defects/defect-of-signal';
import type { Trace } from '#contract/traces';
import { useDefects } from '../shared/defects.queries.js';

/** What the signal warns of: the usual name of what the characteristic shows, or what a person takes it for. */
export function SignalDefect({ trace, characteristic, onChange }: { trace: Trace; characteristic: string | undefined; onChange: (defect: string) => void }) {
  const { t } = useTranslation('traces');
  const all = useDefects().data?.defects ?? [];
  if (!trace.defect) return null;
  const shown = characteristic === undefined ? [] : defectsShownBy(characteristic);
  const item = ({ code, name }: { code: string; name: string }) => ({ value: code, label: name });
  const first = shown.flatMap((code) => all.filter((defect) => defect.code === code));
  const rest = all.filter(({ code }) => !shown.includes(code));
  return (
    <Stack gap={4} maw={520}>
      <NativeSelect size="md" label={t('defect.label')} value={trace.defect.code} onChange={({ currentTarget: { value } }) => onChange(value)}
        data={all.length === 0 ? [item(trace.defect)] : [...(first.length > 0 ? [{ group: t('defect.shown'), items: first.map(item) }] : []), { group: t('defect.others'), items: rest.map(item) }]} />
      <Text size="sm" c="dimmed">{t(`defect.by.${trace.defect.by}`)}</Text>
    </Stack>
  );
}
