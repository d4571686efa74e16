import { NativeSelect, Stack, Text } from '@mantine/core';
import type { DefectEntry } from '#contract/knowledge';
import { DefectFacts } from './defect-facts.js';

/** Defects grouped by their place on the can, with the definition of the chosen one beside it. */
export function DefectPicker({ label, choose, defects, value, onChange, error }: { label: string; choose: string; defects: readonly DefectEntry[]; value: string; onChange: (code: string) => void; error?: string }) {
  const places = [...new Set(defects.map(({ place }) => place))];
  const chosen = defects.find(({ code }) => code === value);
  return (
    <Stack gap={6}>
      <NativeSelect size="md" label={label} value={value} required error={error} onChange={({ currentTarget }) => onChange(currentTarget.value)}
        data={[{ value: '', label: choose }, ...places.map((place) => ({ group: place, items: defects.filter((defect) => defect.place === place).map(({ code, name }) => ({ value: code, label: name })) }))]} />
      {chosen ? <><Text size="sm" c="dimmed">{chosen.definition}</Text><DefectFacts defect={chosen} /></> : null}
    </Stack>
  );
}
