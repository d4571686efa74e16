import { Stack } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import type { Choices, Kind } from '../choices.js';
import { ComputationView } from '../compute/computation-view.js';
import type { Computation } from '../compute/use-method.js';
import type { FormedData } from '../form/form-data.js';
import type { Specification } from '../form/specification.js';
import { Section } from '../section.js';
import type { Nature } from '../use-analysis.js';
import { CapabilityResult } from './capability-result.js';
import { ChartResult } from './chart-result.js';
import { DistributionResult } from './distribution-result.js';
import { MemoryResult } from './memory-result.js';
import type { Ground } from './panel-words.js';
import { SignalsResult } from './signals-result.js';
import type { DistributionAnswers } from './use-distribution.js';
import { Recommended, VarianceResult } from './variance-result.js';
import type { ChartAnswer } from './workbench-chart.figure.js';

type Props = { data: FormedData; choices: Choices; kind: Kind; chart: Computation<ChartAnswer>; nature: Nature; kinds: readonly Kind[]; distribution: DistributionAnswers; specification: Specification | null; ground: Ground; onKind: (kind: Kind) => void };
const NO_LIMITS: Specification = { lsl: null, target: null, usl: null };

/** What the numbers say: chart and signals first, the figures that need a steady process after them. */
export function Results({ data, choices, kind, chart, nature, kinds, distribution, specification, ground, onKind }: Props) {
  const { t } = useTranslation('workbench');
  const [selected, setSelected] = useState<number | null>(null);
  const kindName = t(`chart.kinds.${kind}`);
  return (
    <Stack gap="md">
      <Section title={kindName}>
        <ComputationView computation={chart} what={t('computing.chart')}>{(answer) => <ChartResult answer={answer} kindName={kindName} ground={ground} selected={selected} onSelect={setSelected} />}</ComputationView>
      </Section>
      {chart.query.data ? <Section title={t('signals.title')}><SignalsResult answer={chart.query.data} ground={ground} onSelect={setSelected} /></Section> : null}
      {nature.bodies['recommend-chart'] || nature.bodies.autocorrelation || nature.bodies['variance-components'] ? (
        <Section title={t('variance.title')}>
          {nature.bodies['recommend-chart'] ? <ComputationView computation={nature.recommended} what={t('recommend.what')}>{(answer) => <Recommended answer={answer} kind={kind} kinds={kinds} onKind={onKind} format={ground.format} />}</ComputationView> : null}
          {nature.bodies['variance-components'] ? <ComputationView computation={nature.parts} what={t('variance.what')}>{(answer) => <VarianceResult answer={answer} ground={ground} />}</ComputationView> : null}
          {nature.bodies.autocorrelation ? <ComputationView computation={nature.memory} what={t('memory.what')}>{(answer) => <MemoryResult answer={answer} format={ground.format} />}</ComputationView> : null}
        </Section>
      ) : null}
      <Section title={t('capability.title')}><CapabilityResult data={data} chart={chart.query.data} distribution={distribution} choices={choices} ground={ground} /></Section>
      {distribution.readings ? <Section title={t('distribution.title')}><DistributionResult distribution={distribution} specification={specification ?? NO_LIMITS} name={choices.name} confidence={choices.confidence} ground={ground} /></Section> : null}
    </Stack>
  );
}
