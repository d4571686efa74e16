import { Stack, Text } from '@mantine/core';
import type { DefectEntry } from '#contract/knowledge';
import { DefectFacts } from './defect-facts.js';
import { DefectSelect } from './defect-select.js';

/** The choice of a defect with the definition of the chosen one beside it. */
export function DefectPicker({ label, choose, defects, value, onChange, error }: { label: string; choose: string; defects: readonly DefectEntry[]; value: string; onChange: (code: string) => void; error?: string }) {
  const chosen = defects.find(({ code }) => code === value);
  return (
    <Stack gap={6}>
      <DefectSelect label={label} choose={choose} defects={defects} value={value} onChange={onChange} error={error} />
      {chosen ? <><Text size="sm" c="dimmed">{chosen.definition}</Text><DefectFacts defect={chosen} /></> : null}
    </Stack>
  );
}
