import { Button, Group, Stack, Text, Title } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { listSignatures, type RecordKind, type SignatureMeaning } from '#contract/records';
import { closers } from '#contract/roles';
import { useFormat } from './format.js';
import { call } from './http.js';
import { useMay, usePerson } from './session.js';
import { SignDialog } from './sign-dialog.js';
import { QueryView } from './states.js';

/** Who signed a record, with meaning and time, on the screen and on its print; and the way to sign it. */
export function RecordSignatures({ kind, recordId, meanings = ['reviewed'] }: { kind: RecordKind; recordId: number; meanings?: readonly SignatureMeaning[] }) {
  const { t } = useTranslation('records');
  const { t: common } = useTranslation('common');
  const format = useFormat();
  const [maySign, person] = [useMay(closers), usePerson()];
  const [signing, setSigning] = useState<SignatureMeaning | null>(null);
  const query = useQuery({ queryKey: ['records', 'signatures', kind, recordId], queryFn: ({ signal }) => call(listSignatures, { query: { kind, recordId }, signal }) });
  return (
    <section aria-labelledby={`signatures-${kind}-${recordId}`}>
      <Title order={2} size="h4" pb="xs" id={`signatures-${kind}-${recordId}`}>{t('signatures.title')}</Title>
      <QueryView query={query} what={t('loadingSignatures')}>{(record) => (
        <Stack gap="xs">
          {record.signatures.length === 0 ? <Text c="dimmed">{t('signatures.none')}</Text> : null}
          {record.signatures.map((signature) => (
            <Stack key={signature.id} gap={0}>
              <Text fw={600}>{t('signatures.line', { name: signature.printedName, role: common(`roles.${signature.role}`), meaning: t(`signatures.meaning.${signature.meaning}`), at: format.dateTime(signature.at) })}</Text>
              {signature.comment === '' ? null : <Text>{t('signatures.comment', { comment: signature.comment })}</Text>}
              {signature.covers ? null : <Text fw={600}>{t('signatures.old')}</Text>}
              <Text size="xs" c="dimmed" className="hash">{t('signatures.hash', { hash: signature.contentHash })}</Text>
              {signature.chain.hash === '' ? null : <Text size="xs" c="dimmed" className="hash">{t('signatures.chain', signature.chain)}</Text>}
            </Stack>
          ))}
          {maySign ? (
            <Group gap="sm" className="no-print">
              {meanings.filter((meaning) => meaning !== 'reviewed' || record.author?.id !== person.id).map((meaning) => <Button key={meaning} variant="default" size="md" onClick={() => setSigning(meaning)}>{meaning === 'reviewed' ? t('sign.reviewThis') : t('sign.approveOpen')}</Button>)}
            </Group>
          ) : null}
          {signing ? <SignDialog records={[{ kind, recordId, contentHash: record.contentHash }]} meaning={signing} onClose={() => setSigning(null)} onSigned={() => setSigning(null)} /> : null}
        </Stack>
      )}</QueryView>
    </section>
  );
}
