import { useTranslation } from 'react-i18next';
import type { NoteLink } from '#contract/knowledge';
import { stepWords } from './defects.queries.js';

/** Why a note is suggested, as one sentence part; of a person's link, the person's own words. */
export function useReasonWords(): (link: Pick<NoteLink, 'reason' | 'reasons'>) => string {
  const { t } = useTranslation('knowledge');
  return ({ reason, reasons }) => (reasons.length === 0 ? reason : reasons.map(({ kind, value }) => t(`reasons.${kind}`, { value: kind === 'same-step' ? stepWords(value) : value, count: Number(value) || 0 })).join('; '));
}
