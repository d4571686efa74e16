import { useTranslation } from 'react-i18next';
import { isStepKind } from '#canmaking/line/steps';

/** The word of the screens for a kind of step. */
export function useStepWord(): (kind: string) => string {
  const { t } = useTranslation('plant');
  return (kind) => (isStepKind(kind) ? t(`now.steps.${kind}`) : kind);
}
