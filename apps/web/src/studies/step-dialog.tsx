import { useQuery } from '@tanstack/react-query';
import { useTranslation } from 'react-i18next';
import { listSignatures } from '#contract/records';
import { call } from '../shared/http.js';
import { SignatureDialog } from '../shared/signature-dialog.js';
import { useStep } from './study-records.queries.js';

/** Signs a study with the password asked anew and moves it on; what is signed is what the server showed. */
export function StepDialog({ id, state, onClose }: { id: number; state: 'checked' | 'approved'; onClose: () => void }) {
  const { t } = useTranslation('studyRecords');
  const seen = useQuery({ queryKey: ['records', 'signatures', 'study-record', id], queryFn: ({ signal }) => call(listSignatures, { query: { kind: 'study-record', recordId: id }, signal }) });
  const step = useStep(id);
  return (
    <SignatureDialog title={t(state === 'checked' ? 'step.check' : 'step.approve')} meaning={t(`step.meaning.${state}`)} error={step.error ?? seen.error} busy={step.isPending} ready={seen.data !== undefined} onClose={onClose}
      sign={(given, onError) => { if (seen.data) step.mutate({ state, contentHash: seen.data.contentHash, ...given }, { onSuccess: onClose, onError }); }} />
  );
}
