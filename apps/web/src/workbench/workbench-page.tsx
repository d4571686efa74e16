import { Grid, Stack, Text } from '@mantine/core';
import { useMemo } from 'react';
import { useTranslation } from 'react-i18next';
import { Page } from '../shared/states.js';
import { ChartChoice } from './chart-choice.js';
import type { FormedData } from './form/form-data.js';
import { DataInput } from './data-input.js';
import { exampleText } from './example.js';
import { FormChoice } from './form-choice.js';
import type { DataTable } from './read/read-table.js';
import { Results } from './results/results.js';
import { useChartOf, useFormed } from './use-analysis.js';
import { usePlainFormat } from './use-plain-format.js';
import { useWorkbench, type Workbench } from './use-workbench.js';

/** Anyone's numbers, charted and judged; nothing is stored unless it is saved. */
export function WorkbenchPage() {
  const { t } = useTranslation('workbench');
  const bench = useWorkbench();
  const { state: { text, source, choices }, table, opened } = bench;
  return (
    <Page title={t('title')}>
      <Text>{t('intro')}</Text>
      {opened ? <Text role="status" fw={600}>{t(opened === 'restored' ? 'share.restored' : 'share.broken')}</Text> : null}
      <Grid gap="md">
        <Grid.Col span={{ base: 12, lg: 5 }}>
          <DataInput text={text} source={source} table={table} choices={choices} onText={bench.setText} onChoices={bench.change} onExample={() => bench.setText(exampleText(), null)} />
        </Grid.Col>
        {table.state === 'read' ? <Formed bench={bench} table={table.table} /> : null}
      </Grid>
      <Text size="sm" c="dimmed">{t('caution')}</Text>
    </Page>
  );
}

function Formed({ bench: { state: { choices }, change }, table }: { bench: Workbench; table: DataTable }) {
  const formed = useFormed(table, choices);
  return (
    <>
      <Grid.Col span={{ base: 12, lg: 7 }}><FormChoice table={table} formed={formed} choices={choices} onChange={change} /></Grid.Col>
      {'data' in formed ? <Grid.Col span={12}><Analysis data={formed.data} choices={choices} change={change} /></Grid.Col> : null}
    </>
  );
}

function Analysis({ data, choices, change }: { data: FormedData; choices: Workbench['state']['choices']; change: Workbench['change'] }) {
  const format = usePlainFormat();
  const { unit } = choices;
  const { kinds, kind, faults, computation } = useChartOf(data, choices, null);
  const ground = useMemo(() => ({ decimals: data.decimals, unit, names: data.names, format }), [data, unit, format]);
  return (
    <Stack gap="md">
      <ChartChoice kinds={kinds} kind={kind} recommended={null} reason={null} choices={choices} faults={faults} onChange={change} />
      <Results data={data} choices={choices} kind={kind} chart={computation} ground={ground} />
    </Stack>
  );
}
