import { Alert, Anchor, Button, Group, Stack, Text, Title } from '@mantine/core';
import { type ReactNode, useEffect, useRef } from 'react';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import type { CheckVerdict } from '#contract/inspections';
import { StateBadge } from '../shared/state-badge.js';
import { WeldPositionsOfCheck } from '../shared/weld-positions.js';
import { FloorVerdict } from './floor-verdict.js';
import { VerdictTable } from './verdict-table.js';

const SEAM = new Set(['cover-hook', 'body-hook', 'seam-length', 'seam-thickness']);

/** What the rules said at once after saving, and the way on. */
export function VerdictPanel({ verdict, chart, onNext }: { verdict: CheckVerdict; chart: (streamId: number, label: string) => ReactNode; onNext: () => void }) {
  const { t } = useTranslation('inspections');
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => { heading.current?.focus(); }, []);
  const count = verdict.subgroups.filter((entry) => entry.status === 'signal').length;
  const said = verdict.status === 'signal' ? t('verdict.signal', { id: verdict.checkId, count }) : t(`verdict.${verdict.status}`, { id: verdict.checkId });
  return (
    <Stack gap="md" aria-live="polite">
      <Group gap="md"><Title order={2} size="h3" ref={heading} tabIndex={-1}>{t('verdict.title')}</Title><StateBadge state={verdict.status} /></Group>
      <Text size="lg">{said}</Text>
      {verdict.repeated ? <Text>{t('verdict.repeated')}</Text> : null}
      {verdict.status === 'signal' ? <Alert color="gray">{t('verdict.stop')}</Alert> : null}
      <FloorVerdict checkId={verdict.checkId} />
      <WeldPositionsOfCheck checkId={verdict.checkId} />
      {verdict.subgroups.some((entry) => SEAM.has(entry.characteristic)) ? <Text size="sm" c="dimmed">{t('verdict.juncture')}</Text> : null}
      <Group>
        <Button size="md" onClick={onNext}>{t('log.next')}</Button>
        <Anchor component={Link} to={`/checks/${verdict.checkId}`}>{t('verdict.openCheck', { id: verdict.checkId })}</Anchor>
      </Group>
      <VerdictTable subgroups={verdict.subgroups} chart={chart} />
    </Stack>
  );
}
