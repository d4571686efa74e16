import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useTranslation } from 'react-i18next';
import { type RecordKind, type SignatureMeaning, signRecords } from '#contract/records';
import { call } from './http.js';
import { SignatureDialog } from './signature-dialog.js';

export type SeenRecord = { kind: RecordKind; recordId: number; contentHash: string };

/** Signs what the person has seen, with their password asked anew. The server refuses what was changed meanwhile. */
export function SignDialog({ records, meaning, onClose, onSigned }: { records: readonly SeenRecord[]; meaning: SignatureMeaning; onClose: () => void; onSigned: (count: number) => void }) {
  const { t } = useTranslation('records');
  const client = useQueryClient();
  const sign = useMutation({
    mutationFn: (given: { password: string; comment: string }) => call(signRecords, { body: { records: [...records], meaning, ...given } }),
    onSuccess: ({ signed }) => { void client.invalidateQueries({ queryKey: ['records'] }); onSigned(signed); },
  });
  return <SignatureDialog title={t(`sign.title.${meaning}`)} meaning={t(`sign.meaning.${meaning}`)} error={sign.error} busy={sign.isPending} ready sign={(given, onError) => sign.mutate(given, { onError })} onClose={onClose} />;
}
