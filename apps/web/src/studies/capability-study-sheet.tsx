import { List, Stack, Text, Title } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import type { StudyRecord } from '#contract/capability-studies';
import { CapabilityEvidence } from './capability-evidence.js';
import { CapabilityHeadline } from './capability-headline.js';
import { CapabilityPicture } from './capability-picture.js';
import { CapabilitySheetHead } from './capability-sheet-head.js';
import { CapabilityTable } from './capability-table.js';
import { rowKey } from './study-words.js';

/** A kept capability study in the order of proof: what it is of, stability, figures, what stands beside them, what was left out. */
export function CapabilityStudySheet({ content: { study, excluded } }: { content: Extract<StudyRecord['content'], { kind: 'capability' }> }) {
  const { t } = useTranslation('studyRecords');
  const [row, setRow] = useState<number | 'pooled'>();
  const all = study.pooled ? [...study.streams, study.pooled] : study.streams;
  const shown = all.find((entry) => rowKey(entry) === row) ?? all[0];
  if (!shown) return null;
  return (
    <Stack gap="md">
      <CapabilitySheetHead study={study} />
      <CapabilityHeadline study={study} />
      <CapabilityPicture study={study} entry={shown} />
      <CapabilityTable study={study} shown={shown} onShow={setRow} />
      <section>
        <Title order={2} size="h4" pb="xs">{t('page.left')}</Title>
        {excluded.length === 0 ? <Text>{t('page.noneLeft')}</Text> : <><List>{excluded.map(({ checkId, reason, by }) => <List.Item key={checkId}>{t('page.leftOut', { id: checkId, reason, by })}</List.Item>)}</List><Text size="sm">{t('page.leftShort')}</Text></>}
      </section>
      <CapabilityEvidence study={study} />
    </Stack>
  );
}
