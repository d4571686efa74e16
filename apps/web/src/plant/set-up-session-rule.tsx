import { Button, Group, NumberInput, Stack, Text, Title } from '@mantine/core';
import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { useTranslation } from 'react-i18next';
import { getSessionRule, setSessionRule } from '#contract/sessions';
import { call } from '../shared/http.js';
import { ProblemList } from '../shared/problem-list.js';
import { sessionKey } from '../shared/session.js';
import { QueryView } from '../shared/states.js';

const key = ['session-rule'] as const;

/** After how many idle minutes every session locks. */
export function SessionRule() {
  const { t } = useTranslation('sessions');
  const query = useQuery({ queryKey: key, queryFn: ({ signal }) => call(getSessionRule, { signal }) });
  return (
    <Stack component="section" aria-labelledby="session-rule" gap="xs" mt="xl">
      <Title order={2} size="h4" id="session-rule">{t('rule.title')}</Title>
      <QueryView query={query} what={t('rule.loading')}>{({ idleMinutes }) => <RuleForm key={idleMinutes} idleMinutes={idleMinutes} />}</QueryView>
    </Stack>
  );
}

function RuleForm({ idleMinutes }: { idleMinutes: number }) {
  const { t } = useTranslation('sessions');
  const client = useQueryClient();
  const [minutes, setMinutes] = useState<number | string>(idleMinutes);
  const save = useMutation({ mutationFn: () => call(setSessionRule, { body: { idleMinutes: Number(minutes) } }), onSuccess: async (rule) => { client.setQueryData(key, rule); await client.invalidateQueries({ queryKey: sessionKey }); } });
  const send = (event: FormEvent) => { event.preventDefault(); save.mutate(); };
  return (
    <form onSubmit={send}>
      <Group align="flex-end" gap="sm">
        <NumberInput size="md" label={t('rule.idle')} description={t('rule.hint')} min={1} max={480} allowDecimal={false} required hideControls value={minutes} onChange={setMinutes} />
        <Button type="submit" size="md" variant="default" loading={save.isPending}>{t('rule.save')}</Button>
      </Group>
      {save.isError ? <ProblemList error={save.error} /> : null}
      <Text size="sm" c="dimmed" mt="xs">{t('rule.saved', { minutes: idleMinutes })}</Text>
    </form>
  );
}
