import { Grid, Text } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { Page } from '../shared/states.js';
import { Analysis } from './analysis.js';
import { DataInput } from './data-input.js';
import { exampleState } from './example.js';
import { StudyList } from './studies/study-list.js';
import { useWorkbench } from './use-workbench.js';

/** Anyone's numbers, charted and judged; nothing is stored unless it is saved. */
export function WorkbenchPage() {
  const { t } = useTranslation('workbench');
  const bench = useWorkbench();
  const { state: { text, source, choices }, table, shown, opened } = bench;
  return (
    <Page title={t('title')}>
      <Text>{t('intro')}</Text>
      {opened ? <Text role="status" fw={600}>{t(opened === 'restored' ? 'share.restored' : 'share.broken')}</Text> : null}
      <Grid gap="md">
        <Grid.Col span={{ base: 12, lg: 5 }}>
          <DataInput text={text} source={source} table={table} choices={choices} onText={bench.setText} onChoices={bench.change} onExample={() => bench.restore(exampleState())} />
        </Grid.Col>
        {shown ? <Analysis bench={bench} table={shown} /> : null}
      </Grid>
      <StudyList onOpen={bench.restore} />
      <Text size="sm" c="dimmed">{t('caution')}</Text>
    </Page>
  );
}
