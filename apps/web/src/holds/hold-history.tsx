import { List, Text, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import type { Hold } from '#contract/holds';
import { useFormat } from '../shared/format.js';
import { SampleSentence } from './sample-sentence.js';

const actions = ['proposed', 'placed', 'under-examination', 'withdrawn', 'pallets-added', 'sampled', 'decided', 'reopened'] as const;

/** Who did what, in order; decisions with the person who made them. */
export function HoldHistory({ hold: { steps } }: { hold: Hold }) {
  const { t } = useTranslation('holds');
  const format = useFormat();
  return (
    <section>
      <Title order={2} size="h4" pb="xs">{t('page.history')}</Title>
      <List spacing="sm" maw={900}>
        {steps.map((step) => (
          <List.Item key={step.id}>
            <Text fw={600}>{`${format.dateTime(step.at)} · ${t(`page.step.${actions.find((each) => each === step.action) ?? 'other'}`)} · ${t('page.who', step)}`}</Text>
            {step.decision ? <Text>{t('page.decision_text', { what: t(`disposition.${step.decision.disposition}`), pallets: step.decision.pallets?.join(', ') ?? t('page.allLeft'), name: step.decision.decidedBy, role: step.decision.decidedRole })}</Text> : null}
            {step.sample ? <SampleSentence sample={step.sample} /> : null}
            {step.comment ? <Text style={{ whiteSpace: 'pre-wrap' }}>{step.comment}</Text> : null}
          </List.Item>
        ))}
      </List>
    </section>
  );
}
