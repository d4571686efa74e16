import { Stack } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import type { Choices, Kind } from '../choices.js';
import { ComputationView } from '../compute/computation-view.js';
import type { Computation } from '../compute/use-method.js';
import type { FormedData } from '../form/form-data.js';
import { Section } from '../section.js';
import { ChartResult } from './chart-result.js';
import { SignalsResult } from './signals-result.js';
import type { Ground } from './panel-words.js';
import type { ChartAnswer } from './workbench-chart.figure.js';

type Props = { data: FormedData; choices: Choices; kind: Kind; chart: Computation<ChartAnswer>; ground: Ground };

/** What the numbers say: chart and signals first, the figures that need a steady process after them. */
export function Results({ kind, chart, ground }: Props) {
  const { t } = useTranslation('workbench');
  const [selected, setSelected] = useState<number | null>(null);
  const kindName = t(`chart.kinds.${kind}`);
  return (
    <Stack gap="md">
      <Section title={kindName}>
        <ComputationView computation={chart} what={t('computing.chart')}>{(answer) => <ChartResult answer={answer} kindName={kindName} ground={ground} selected={selected} onSelect={setSelected} />}</ComputationView>
      </Section>
      {chart.query.data ? <Section title={t('signals.title')}><SignalsResult answer={chart.query.data} ground={ground} onSelect={setSelected} /></Section> : null}
    </Stack>
  );
}
