import { Stack, Text } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import type { PlantTree } from '#contract/plant';
import { recordKind, type RecordKind } from '#contract/records';
import { deletableKind, type RetentionView, setRetentionRule } from '#contract/retention';
import { administrators } from '#contract/roles';
import { useFormat } from '../shared/format.js';
import { useMay } from '../shared/session.js';
import { QueryView } from '../shared/states.js';
import { LegalHolds } from './set-up-legal-holds.js';
import { PastRecords } from './set-up-past-records.js';
import { PastRetention } from './set-up-past-retention.js';
import { useRetention } from './retention.queries.js';
import { SetUpForm } from './set-up-form.js';
import { SetUpTable } from './set-up-table.js';
import { useAct } from './set-up.queries.js';

/** How long records are kept, what must not go, what may go, and what went. */
export function RetentionSection({ tree }: { tree: PlantTree }) {
  const { t } = useTranslation('retention');
  return (
    <Stack gap="xl">
      <Text maw={760}>{t('text')}</Text>
      <QueryView query={useRetention()} what={t('loading')}>{(view) => (
        <Stack gap="xl"><Rules view={view} /><PastRetention view={view} /><PastRecords view={view} /><LegalHolds view={view} tree={tree} /><Acts view={view} /></Stack>
      )}</QueryView>
    </Stack>
  );
}

function Rules({ view }: { view: RetentionView }) {
  const { t } = useTranslation('retention');
  const { t: plant } = useTranslation('plant');
  const format = useFormat();
  const act = useAct(setRetentionRule);
  const mayChange = useMay(administrators);
  const [editing, setEditing] = useState<number>();
  const kinds = recordKind.options;
  const mayGo = (kind: RecordKind) => kind === 'check' || deletableKind.options.some((each) => each === kind);
  const ruleOf = (kind: string | undefined) => view.rules.find((rule) => rule.kind === kind);
  const open = (at: number) => { act.reset(); setEditing(at); };
  const edited = editing === undefined ? undefined : kinds[editing];
  return (
    <Stack gap="xs">
      <SetUpTable title={t('rules.title')} text={t('rules.hint')} empty={t('rules.none')} columns={[t('rules.kind'), t('rules.years'), t('rules.source'), t('rules.by')]} edit={mayChange ? open : undefined}
        rows={kinds.map((kind, id) => {
          const rule = ruleOf(kind);
          return { id, name: t(`rules.kinds.${kind}`), cells: [t(`rules.kinds.${kind}`), !rule ? t('rules.forEver') : mayGo(kind) ? t('rules.yearsOf', { count: rule.years }) : t('rules.atLeast', { count: rule.years }), rule?.source ?? t('rules.none'), rule ? t('rules.version', { version: rule.version, author: rule.author, at: format.dateTime(rule.at), reason: rule.reason }) : t('rules.none')] };
        })} />
      <Text size="sm" c="dimmed">{t('rules.onlyListed')}</Text>
      {edited ? (
        <SetUpForm key={edited} title={plant('setUp.changeOf', { name: t(`rules.kinds.${edited}`) })} act={act} onClose={() => setEditing(undefined)} start={{ years: ruleOf(edited)?.years ?? 3, source: ruleOf(edited)?.source ?? '', reason: '' }} toBody={(values) => ({ ...values, kind: edited })}
          fields={[{ name: 'years', label: t('rules.yearsField'), kind: 'number', required: true }, { name: 'source', label: t('rules.sourceField'), kind: 'text', required: true }, { name: 'reason', label: t('rules.reasonField'), kind: 'longText', required: true }]} />
      ) : null}
    </Stack>
  );
}

function Acts({ view }: { view: RetentionView }) {
  const { t } = useTranslation('retention');
  const format = useFormat();
  return (
    <SetUpTable title={t('acts.title')} empty={t('acts.empty')} columns={[t('acts.at'), t('acts.who'), t('acts.what'), t('acts.why'), t('acts.hash')]}
      rows={view.acts.map((act) => ({ id: act.id, name: String(act.id), cells: [format.dateTime(act.at), act.actor, act.kind === 'check' ? t('acts.checks', { checks: act.checks, subgroups: act.subgroups, before: format.dateTime(act.takenBefore) }) : t('acts.records', { kind: t(`rules.kinds.${act.kind}`), count: act.records, before: format.dateTime(act.takenBefore) }), act.reason, act.hash] }))} />
  );
}
