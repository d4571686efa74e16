import { NativeSelect } from '@mantine/core';
import type { DefectEntry } from '#contract/knowledge';

/** Defects grouped by their place on the can. */
export function DefectSelect({ label, choose, defects, value, onChange, error }: { label: string; choose: string; defects: readonly DefectEntry[]; value: string; onChange: (code: string) => void; error?: string | undefined }) {
  const places = [...new Set(defects.map(({ place }) => place))];
  return (
    <NativeSelect size="md" label={label} value={value} required error={error} onChange={({ currentTarget }) => onChange(currentTarget.value)}
      data={[{ value: '', label: choose }, ...places.map((place) => ({ group: place, items: defects.filter((defect) => defect.place === place).map(({ code, name }) => ({ value: code, label: name })) }))]} />
  );
}
