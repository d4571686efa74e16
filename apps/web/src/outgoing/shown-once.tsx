import { Alert, Button, Code, CopyButton, Group, Stack, Text } from '@mantine/core';
import { useTranslation } from 'react-i18next';

/** A secret that stands in one answer and nowhere else. */
export function ShownOnce({ title, text, secret, onClose }: { title: string; text: string; secret: string; onClose: () => void }) {
  const { t } = useTranslation('outgoing');
  return (
    <Alert color="gray" title={title} role="status">
      <Stack gap="sm" align="flex-start">
        <Text size="sm">{text}</Text>
        <Code block style={{ whiteSpace: 'pre-wrap', overflowWrap: 'anywhere' }}>{secret}</Code>
        <Group>
          <CopyButton value={secret}>{({ copied, copy }) => <Button variant="default" onClick={copy}>{copied ? t('once.copied') : t('once.copy')}</Button>}</CopyButton>
          <Button onClick={onClose}>{t('once.kept')}</Button>
        </Group>
      </Stack>
    </Alert>
  );
}
