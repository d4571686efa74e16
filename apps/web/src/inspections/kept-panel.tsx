import { Button, Group, Stack, Text, Title } from '@mantine/core';
import { useEffect, useRef } from 'react';
import { useTranslation } from 'react-i18next';
import { useReached } from '../shared/network.js';

/** The check is safe in this browser and on its way: the person can go on. */
export function KeptPanel({ returned, onNext }: { returned: boolean; onNext: () => void }) {
  const { t } = useTranslation(['queue', 'inspections']);
  const reached = useReached();
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => { heading.current?.focus(); }, []);
  return (
    <Stack gap="sm" aria-live="polite">
      <Title order={2} size="h3" ref={heading} tabIndex={-1}>{returned ? t('kept.returned') : t('kept.title')}</Title>
      <Text>{returned ? t('kept.returnedText') : reached ? t('kept.busy') : t('kept.away')}</Text>
      <Text size="sm" c="dimmed">{t('kept.verdict')}</Text>
      <Group><Button size="md" onClick={onNext}>{t('inspections:log.next')}</Button></Group>
    </Stack>
  );
}
