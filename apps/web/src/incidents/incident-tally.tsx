import { Box, Stack, Text, Title, UnstyledButton } from '@mantine/core';
import { useTranslation } from 'react-i18next';

type Entry = { value: string; name: string; incidents: number; cansComplained: number };

/** Most frequent first; a bar's length is its number of incidents, and the number stands beside it. */
export function IncidentTally({ title, entries, onChoose }: { title: string; entries: readonly Entry[]; onChoose: (value: string) => void }) {
  const { t } = useTranslation('incidents');
  const most = Math.max(1, ...entries.map(({ incidents }) => incidents));
  return (
    <section>
      <Title order={2} size="h4" pb="xs">{title}</Title>
      <Stack component="ul" gap={4} p={0} m={0}>
        {entries.slice(0, 12).map((entry) => (
          <Box component="li" key={entry.value} style={{ listStyle: 'none' }}>
            <UnstyledButton onClick={() => onChoose(entry.value)} py={6} w="100%">
              <Text size="sm" fw={600}>{entry.name}</Text>
              <Box h={10} w={`${(100 * entry.incidents) / most}%`} bg="var(--mantine-primary-color-filled)" aria-hidden />
              <Text size="sm" c="dimmed">{t('list.tally', { count: entry.incidents, cans: entry.cansComplained })}</Text>
            </UnstyledButton>
          </Box>
        ))}
      </Stack>
    </section>
  );
}
