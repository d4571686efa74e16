import { Alert, Button, List, Stack, Text, Title } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useTranslation } from 'react-i18next';
import { type VerificationView, verifyRecordsEndpoint } from '#contract/records';
import { useFormat } from '../shared/format.js';
import { call } from '../shared/http.js';
import { ErrorState } from '../shared/states.js';

/** Compares everything stored with its seals when asked: it reads all of it, so it does not run by itself. */
export function VerifySection() {
  const { t } = useTranslation('records');
  const query = useQuery({ queryKey: ['verification'], queryFn: ({ signal }) => call(verifyRecordsEndpoint, { signal }), enabled: false, retry: false });
  return (
    <Stack component="section" gap="sm" aria-labelledby="verify-title" pt="md">
      <Title order={2} size="h4" id="verify-title">{t('verify.title')}</Title>
      <Text maw={760}>{t('verify.text')}</Text>
      <Button variant="default" size="md" style={{ alignSelf: 'flex-start' }} loading={query.isFetching} onClick={() => void query.refetch()}>{t('verify.do')}</Button>
      {query.isFetching ? <Text role="status">{t('verify.running')}</Text> : query.isError ? <ErrorState error={query.error} /> : query.data ? <Found found={query.data} /> : null}
    </Stack>
  );
}

function Found({ found }: { found: VerificationView }) {
  const { t } = useTranslation('records');
  const format = useFormat();
  const untold = found.records.filter((each) => each.untold > 0);
  const counts = t('verify.counts', { rows: format.number(found.auditRows, 0), checks: format.number(found.checks, 0), heads: format.number(found.notedHeads, 0), at: format.dateTime(found.at) });
  return (
    <Stack gap="xs" role="status">
      {found.faults === 0 ? <Text fw={600}>{t('verify.fine')}</Text> : (
        <Alert color="gray" title={t('verify.faults', { count: found.faults })}>
          <List size="sm">
            {found.auditFaults.map((fault) => <List.Item key={`${fault.kind} ${fault.seq} ${fault.auditId}`}>{t(`verify.audit.${fault.kind}`, { auditId: fault.auditId ?? '–', subject: fault.subject ?? '–', seq: fault.seq ?? '–', notedBy: fault.notedBy ?? '–' })}</List.Item>)}
            {found.checkFaults.map((fault) => fault.kind === 'changed-before'
              ? <List.Item key={`${fault.auditId} ${fault.checkId}`}>{t('verify.changedBefore', { id: fault.checkId, auditId: fault.auditId, act: t(`verify.acts.${fault.action}`), at: format.dateTime(fault.at) })}</List.Item>
              : <List.Item key={`${fault.kind} ${fault.checkId}`}>{t(`verify.check.${fault.kind}`, { id: fault.checkId })}</List.Item>)}
            {found.recordFaults.map((fault) => <List.Item key={`${fault.record} ${fault.kind} ${fault.id}`}>{t(`verify.record.${fault.kind}`, { name: t(`verify.kinds.${fault.record}`), id: fault.id })}</List.Item>)}
          </List>
          <Text pt="xs" fw={600}>{t('verify.call')}</Text>
        </Alert>
      )}
      <Text>{counts}</Text>
      <Text>{t('verify.others', { list: found.records.map(({ record, compared }) => t('verify.other', { name: t(`verify.kinds.${record}`), count: compared })).join(', ') })}</Text>
      {untold.length > 0 ? <Text>{t('verify.untold', { list: untold.map((each) => t('verify.other', { name: t(`verify.kinds.${each.record}`), count: each.untold })).join(', ') })}</Text> : null}
      <Text c="dimmed" size="sm">{t('verify.notCompared')}</Text>
      {found.checksWithoutSeal > 0 ? <Text>{t('verify.unsealed', { count: found.checksWithoutSeal })}</Text> : null}
      {found.head ? <><Text className="hash">{t('verify.head', found.head)}</Text><Text c="dimmed" size="sm">{t('verify.headHint')}</Text></> : null}
    </Stack>
  );
}
