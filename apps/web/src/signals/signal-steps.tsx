import { List, Paper, Text, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import type { SignalPage } from '#contract/signals';
import { useFormat } from '../shared/format.js';

const KNOWN = ['raised', 'acknowledged', 'cause-assigned', 'closed', 'reopened', 'withdrawn', 'shortened', 'note-linked', 'note-unlinked', 'note-rejected'] as const;

export function SignalSteps({ steps }: { steps: SignalPage['steps'] }) {
  const { t } = useTranslation('signals');
  const format = useFormat();
  return (
    <Paper withBorder p="md" component="section">
      <Title order={2} size="h4">{t('steps.title')}</Title>
      <List listStyleType="none" spacing="xs">
        {steps.map(({ id, at, actor, action, comment }) => {
          const known = KNOWN.find((name) => name === action);
          const aboutNote = action.startsWith('note-');
          return (
            <List.Item key={id}>
              <Text><Text span c="dimmed">{format.dateTime(at)}</Text> · {actor} · {known ? t(`steps.${known}`, { comment: comment ?? '' }) : action}</Text>
              {comment && !aboutNote ? <Text pl="md" style={{ whiteSpace: 'pre-wrap' }}>{comment}</Text> : null}
            </List.Item>
          );
        })}
      </List>
    </Paper>
  );
}
