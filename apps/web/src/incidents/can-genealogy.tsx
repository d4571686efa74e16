import { SimpleGrid, Stack, Text, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import type { Incident } from '#contract/incidents';
import { type Genealogy, genealogyOf } from './genealogy.js';
import { usePlant } from '../shared/plant.queries.js';

/** Where on the body, and through which lane, head and spindle a can of the incident came, as far as its marks tell. */
export function CanGenealogy({ incident }: { incident: Incident }) {
  const { t } = useTranslation('canMaking');
  const line = usePlant().data?.lines.find(({ id }) => id === incident.lineId);
  if (!line) return null;
  const known = genealogyOf(incident, line);
  const facts: [label: string, value: string][] = [[t('genealogy.body'), body(known)], [t('genealogy.ends'), ends(known)], [t('genealogy.lane'), known.slitter === null ? t('genealogy.laneNone') : t('genealogy.laneUnknown', known.slitter)], ...known.units.map((unit): [string, string] => [t(`genealogy.unit.${unit.kind}`), place(unit)])];
  function body({ body: { of, place: at, lane } }: Genealogy): string {
    if (of === 1) return t('genealogy.single');
    return at === null ? t('genealogy.placeUnknown') : t('genealogy.place', { lane: lane ?? '', place: at, of });
  }
  function ends({ ends: told, halves }: Genealogy): string {
    if (told !== null) return t('genealogy.endsOf', { leading: t(`genealogy.end.${told.leading}`), trailing: t(`genealogy.end.${told.trailing}`) });
    return halves === null ? t('genealogy.placeUnknown') : t('genealogy.endsUnknown', halves);
  }
  function place({ known: told, possible }: Genealogy['units'][number]): string {
    if (told !== null) return t('genealogy.unitKnown', told);
    return possible === 0 ? t('genealogy.unitNone') : t('genealogy.unitUnknown', { count: possible });
  }
  return (
    <Stack component="section" gap="xs" aria-labelledby="genealogy-title">
      <Title order={2} size="h4" id="genealogy-title">{t('genealogy.title')}</Title>
      <Text c="dimmed" maw={900}>{t('genealogy.text')}</Text>
      <SimpleGrid component="dl" cols={{ base: 1, xs: 2, md: 3 }} spacing="sm" m={0}>
        {facts.map(([label, value]) => <div key={label}><Text component="dt" size="sm" c="dimmed">{label}</Text><Text component="dd" m={0}>{value}</Text></div>)}
      </SimpleGrid>
    </Stack>
  );
}
