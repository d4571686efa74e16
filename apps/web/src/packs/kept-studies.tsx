import { Button, Checkbox, Group, Stack, Text } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { useKeptStudies } from '../shared/kept-studies.queries.js';
import { ErrorState, Loading } from '../shared/states.js';

const SHOWN = 20;

/** Which studies of the Workbench belong to the pack: the newest, more when asked, and whatever is chosen already. */
export function KeptStudies({ chosen, onChoose }: { chosen: readonly number[]; onChoose: (studies: number[]) => void }) {
  const { t } = useTranslation('packs');
  const query = useKeptStudies();
  const [shown, setShown] = useState(SHOWN);
  if (query.isPending) return <Loading what={t('pick.studies')} />;
  if (!query.data) return <ErrorState error={query.error} retry={() => void query.refetch()} />;
  const known = query.data.pages.flatMap(({ studies }) => studies);
  if (known.length === 0) return <Text c="dimmed">{t('pick.noStudies')}</Text>;
  const listed = known.filter(({ id }, index) => index < shown || chosen.includes(id));
  const more = () => {
    setShown(shown + SHOWN);
    if (known.length < shown + SHOWN && query.hasNextPage) void query.fetchNextPage();
  };
  const toggle = (id: number) => onChoose(chosen.includes(id) ? chosen.filter((each) => each !== id) : [...chosen, id]);
  return (
    <Stack gap={4} role="group" aria-label={t('pick.studies')}>
      <Text fw={500}>{t('pick.studies')}</Text>
      <Group gap="md">{listed.map(({ id, title }) => <Checkbox key={id} size="md" label={title} checked={chosen.includes(id)} onChange={() => toggle(id)} />)}</Group>
      {shown < known.length || query.hasNextPage ? <Button variant="default" size="md" style={{ alignSelf: 'flex-start' }} loading={query.isFetchingNextPage} onClick={more}>{t('pick.moreStudies')}</Button> : null}
    </Stack>
  );
}
