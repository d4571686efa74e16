import { Grid, Stack } from '@mantine/core';
import { useDebouncedValue } from '@mantine/hooks';
import { useMemo } from 'react';
import { useTranslation } from 'react-i18next';
import { ChartChoice } from './chart-choice.js';
import { readSpecification } from './form/specification.js';
import { FormChoice } from './form-choice.js';
import type { DataTable } from './read/read-table.js';
import { Results } from './results/results.js';
import { useDistribution } from './results/use-distribution.js';
import { KeepSection } from './share/keep-section.js';
import { SaveStudy } from './studies/save-study.js';
import { useChartOf, useFormed, useNature } from './use-analysis.js';
import { usePlainFormat } from './use-plain-format.js';
import type { Workbench } from './use-workbench.js';

/** From a table that was read to everything that is said about it. */
export function Analysis({ bench, table }: { bench: Workbench; table: DataTable }) {
  const { t } = useTranslation('workbench');
  const { state, change } = bench;
  // A moment after the last change: half a number in a field is no question.
  const [settled] = useDebouncedValue(state.choices, 300);
  const formed = useFormed(table, settled);
  const data = 'data' in formed ? formed.data : null;
  const format = usePlainFormat();
  const { unit, lsl, target, usl } = settled;
  const specification = useMemo(() => { const read = readSpecification({ lsl, target, usl }); return 'specification' in read ? read.specification : null; }, [lsl, target, usl]);
  const { kinds, kind, faults, body, computation } = useChartOf(data, settled);
  const distribution = useDistribution(data, kind, settled, specification);
  const ground = useMemo(() => ({ decimals: data?.decimals ?? 0, unit, names: data?.names ?? null, format }), [data, unit, format]);
  const chart = computation.query.data;
  const nature = useNature(table, data, settled, chart, t('variance.subgroup'));
  return (
    <>
      <Grid.Col span={{ base: 12, lg: 7 }}>
        <Stack gap="md">
          <FormChoice table={table} formed={formed} choices={state.choices} onChange={change} />
          {kind ? <ChartChoice kinds={kinds} kind={kind} choices={state.choices} faults={faults} onChange={change} /> : null}
        </Stack>
      </Grid.Col>
      {data && kind ? (
        <Grid.Col span={12}>
          <Stack gap="md">
            <Results data={data} choices={settled} kind={kind} chart={computation} nature={nature} kinds={kinds} distribution={distribution} specification={specification} ground={ground} onKind={(chosen) => change({ kind: chosen })} />
            <KeepSection state={state} chart={chart} answers={{ chart, ...nature.answers, ...distribution.answers }} ground={ground} onAddress={bench.keepInAddress} />
            <SaveStudy state={state} bodies={{ chart: body, ...nature.bodies, ...distribution.bodies }} />
          </Stack>
        </Grid.Col>
      ) : null}
    </>
  );
}
