import { Anchor, List, Text, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import { useFormat } from '../shared/format.js';
import { EmptyState, QueryView } from '../shared/states.js';
import type { TraceSubject } from './trace-subject.js';
import { useKept } from './traces.queries.js';

/** Each ranking that a person acted on, with the way to it as it stood. */
export function KeptTraces({ subject }: { subject: TraceSubject }) {
  const { t } = useTranslation('traces');
  const format = useFormat();
  return (
    <section>
      <Title order={2} size="h4" pb="xs">{t('act.keptTitle')}</Title>
      <QueryView query={useKept(subject)} what={t('act.keptTitle')} isEmpty={({ traces }) => traces.length === 0} empty={<EmptyState title={t('act.noneKept')} text={t('act.hint')} />}>
        {({ traces }) => (
          <List spacing="xs">
            {traces.map((kept) => (
              <List.Item key={kept.id}>
                {t('act.kept', { at: format.dateTime(kept.keptAt), who: kept.actor, where: kept.origin ?? t('act.whole'), comment: kept.comment })}{' '}
                <Anchor component={Link} to={`/traces/${kept.id}`} underline="always" aria-label={t('act.openOf', { id: kept.id })}>{t('act.open')}</Anchor> <Text span c="dimmed">{t('act.software', { software: kept.software })}</Text>
              </List.Item>
            ))}
          </List>
        )}
      </QueryView>
    </section>
  );
}
