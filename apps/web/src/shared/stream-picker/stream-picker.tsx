import { Group, NativeSelect } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import type { StreamListed } from '#contract/specifications';
import { chooseStream, FACETS, facetOptions } from './choose-stream.js';

/** Line, machine, characteristic; product, unit and lane only where there are several. */
export function StreamPicker({ streams, stream, onChoose }: { streams: readonly StreamListed[]; stream: StreamListed; onChoose: (id: number) => void }) {
  const { t } = useTranslation('specifications');
  const always = new Set<string>(['line', 'machine', 'characteristic']);
  return (
    <Group gap="sm" align="flex-end" className="no-print">
      {FACETS.map((facet) => {
        const options = facetOptions(streams, stream, facet);
        if (options.length < 2 && !always.has(facet)) return null;
        return (
          <NativeSelect key={facet} size="md" label={t(`pick.${facet}`)} value={String(stream[facet]?.id ?? 0)} disabled={options.length < 2}
            data={options.map(({ id, code, name }) => ({ value: String(id), label: id === 0 ? t('pick.together') : facet === 'characteristic' ? name ?? code : name === null ? code : t('pick.named', { code, name }) }))}
            onChange={({ currentTarget: { value } }) => onChoose(chooseStream(streams, stream, facet, Number(value)).id)} />
        );
      })}
    </Group>
  );
}
