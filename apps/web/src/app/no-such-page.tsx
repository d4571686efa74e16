import { useTranslation } from 'react-i18next';
import { useRouteError } from 'react-router';
import { EmptyState, ErrorState } from '../shared/states.js';

export function NoSuchPage() {
  const { t } = useTranslation('common');
  return <EmptyState title={t('noSuchPage.title')} text={t('noSuchPage.text')} />;
}

/** A page that could not be drawn or loaded: usually the program was updated while this one was open. */
export function BrokenPage() {
  const error = useRouteError();
  return <ErrorState error={error} retry={() => window.location.reload()} />;
}
