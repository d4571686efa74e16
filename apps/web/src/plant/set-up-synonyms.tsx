import { NativeSelect, Stack } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import type { AnswerOf } from '#contract/endpoint';
import { changeSynonymGroup, createSynonymGroup, listSynonymRevisions, type listSynonyms } from '#contract/synonyms';
import { CompareVersions } from '../shared/compare-versions.js';
import { useFormat } from '../shared/format.js';
import { call } from '../shared/http.js';
import { plantKey } from '../shared/plant.queries.js';
import { QueryView } from '../shared/states.js';
import { type Field, SetUpForm } from './set-up-form.js';
import { SetUpTable } from './set-up-table.js';
import { useAct, useSynonyms } from './set-up.queries.js';

type Synonyms = AnswerOf<typeof listSynonyms>;

export function SynonymsSection({ mayChange }: { mayChange: boolean }) {
  const { t } = useTranslation('plant');
  const synonyms = useSynonyms();
  return (
    <QueryView query={synonyms} what={t('setUp.synonym.loading')}>{(known) => (
      <Stack gap="xl">
        <OwnSynonyms own={known.own} mayChange={mayChange} />
        <SynonymVersions own={known.own} />
        <SetUpTable title={t('setUp.synonym.ambiguous')} text={t('setUp.synonym.ambiguousText')} empty={t('setUp.synonym.ambiguousEmpty')} columns={[t('setUp.synonym.word'), t('setUp.synonym.meanings')]}
          rows={known.ambiguous.map(({ term, meanings }, id) => ({ id, name: term, cells: [term, meanings.map((meaning) => t('setUp.synonym.meaning', meaning)).join('; ')] }))} />
        <SetUpTable title={t('setUp.synonym.trade')} text={t('setUp.synonym.tradeText')} empty={t('setUp.synonym.tradeEmpty')} columns={[t('setUp.synonym.preferred'), t('setUp.synonym.others')]}
          rows={known.trade.map(({ preferred, others }, id) => ({ id, name: preferred, cells: [preferred, others.join(', ')] }))} />
      </Stack>
    )}</QueryView>
  );
}

function OwnSynonyms({ own, mayChange }: { own: Synonyms['own']; mayChange: boolean }) {
  const { t } = useTranslation('plant');
  const format = useFormat();
  const [editing, setEditing] = useState<number | 'new'>();
  const [add, edit] = [useAct(createSynonymGroup), useAct(changeSynonymGroup)];
  const group = own.find(({ id }) => id === editing);
  const fields: Field[] = [
    { name: 'preferred', label: t('setUp.synonym.preferred'), hint: t('setUp.synonym.preferredHint'), kind: 'text', required: true },
    { name: 'others', label: t('setUp.synonym.others'), hint: t('setUp.synonym.othersHint'), kind: 'tags' },
  ];
  const why: Field = { name: 'reason', label: t('setUp.reason'), kind: 'text', required: true };
  const close = () => setEditing(undefined);
  return (
    <>
      <SetUpTable title={t('setUp.synonym.own')} text={t('setUp.synonym.text')} empty={t('setUp.synonym.empty')} columns={[t('setUp.synonym.preferred'), t('setUp.synonym.others'), t('setUp.synonym.by')]}
        add={mayChange ? { label: t('setUp.synonym.add'), onClick: () => setEditing('new') } : undefined} edit={mayChange ? setEditing : undefined}
        rows={own.map(({ id, preferred, others, retired, author, changedAt }) => ({ id, name: preferred, cells: [retired ? t('setUp.retiredName', { name: preferred }) : preferred, others.join(', '), t('setUp.synonym.changed', { author, at: format.dateTime(changedAt) })] }))} />
      {editing === 'new' ? <SetUpForm title={t('setUp.synonym.add')} fields={[...fields, why]} act={add} start={{ preferred: '', others: [], reason: '' }} toBody={(values) => values} onClose={close} /> : null}
      {group ? <SetUpForm key={group.revision} title={t('setUp.synonym.edit', { name: group.preferred })} fields={[...fields, { name: 'retired', label: t('setUp.retired'), kind: 'switch' }, why]} act={edit} id={group.id} start={{ ...group, reason: '' }}
        toBody={({ preferred, others, retired, revision, reason }) => ({ preferred, others, retired, revision, reason })} onClose={close} /> : null}
    </>
  );
}

/** What a group of the plant said from change to change, with who and why. Nothing where none was ever changed. */
function SynonymVersions({ own }: { own: Synonyms['own'] }) {
  const { t } = useTranslation('portable');
  const changed = own.filter(({ revision }) => revision > 1);
  const [chosen, setChosen] = useState<number | null>(null);
  const id = chosen ?? changed[0]?.id;
  if (id === undefined) return null;
  return (
    <Stack gap="xs">
      <NativeSelect size="md" maw={420} label={t('compare.fields.preferred')} value={String(id)} data={changed.map((each) => ({ value: String(each.id), label: each.preferred }))} onChange={({ currentTarget }) => setChosen(Number(currentTarget.value))} />
      <VersionsOf key={id} id={id} />
    </Stack>
  );
}

function VersionsOf({ id }: { id: number }) {
  const { t } = useTranslation('portable');
  const format = useFormat();
  const revisions = useQuery({ queryKey: [...plantKey, 'synonyms', id], queryFn: ({ signal }) => call(listSynonymRevisions, { params: { id }, signal }) });
  return (
    <QueryView query={revisions} what={t('compare.title')}>{(known) => (
      <CompareVersions title={t('compare.title')} versions={known.revisions.map(({ revision, author, at, reason, ...fields }) => ({ key: String(revision), label: t('compare.version', { revision, at: format.dateTime(at) }), author, at, reason, fields }))} />
    )}</QueryView>
  );
}
