import { Button, Group, Stack, Text, TextInput, Title } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { engineers } from '#contract/roles';
import { useFormat } from '../shared/format.js';
import { ProblemList } from '../shared/problem-list.js';
import { useMay } from '../shared/session.js';
import { StateBadge } from '../shared/state-badge.js';
import { QueryView } from '../shared/states.js';
import { FindingList } from './finding-list.js';
import { useMakePack, useReadiness } from './packs.queries.js';
import type { PackView } from './packs.url.js';

/** What would fail the audit, then the button that freezes it all the same: an open finding is told, not hidden. */
export function MakePack({ view, moments }: { view: PackView; moments: { from: string; to: string } }) {
  const { t } = useTranslation('packs');
  const format = useFormat();
  const [mayMake, make] = [useMay(engineers), useMakePack()];
  const [typed, setTyped] = useState<string | null>(null);
  const title = typed ?? t('make.defaultTitle', { from: format.day(view.from), to: format.day(view.to) });
  const ready = useReadiness({ customer: view.customer, products: view.products.join(','), studies: view.studies.join(','), ...moments });
  return (
    <Stack component="section" gap="md" aria-labelledby="pack-ready">
      <Title order={2} size="h4" id="pack-ready">{t('ready.title')}</Title>
      <QueryView query={ready} what={t('checking')}>{({ subjects, readings, findings }) => (
        <Stack gap="md" aria-busy={ready.isFetching}>
          <Stack gap={4} role="status">
            {findings.length === 0 ? <><StateBadge state="steady" word={t('ready.fine')} /><Text>{t('ready.fineText')}</Text></> : <Text fw={600}>{t('ready.found', { count: findings.length })}</Text>}
            <Text c="dimmed">{t('ready.counts', { count: subjects, readings: format.number(readings, 0) })}</Text>
          </Stack>
          <FindingList findings={findings} days={view} />
          {mayMake ? (
            <Stack gap="xs">
              <Group gap="md" align="end">
                <TextInput size="md" w={360} label={t('make.title')} value={title} maxLength={200} onChange={({ currentTarget: { value } }) => setTyped(value)} />
                <Button size="md" loading={make.isPending} disabled={title.trim() === '' || readings === 0} onClick={() => make.mutate({ customer: view.customer, title: title.trim(), products: view.products, studies: view.studies, ...moments })}>{t('make.do')}</Button>
              </Group>
              <Text size="sm" c="dimmed">{t('make.hint')}</Text>
              <ProblemList error={make.error} />
            </Stack>
          ) : null}
        </Stack>
      )}</QueryView>
    </Stack>
  );
}
