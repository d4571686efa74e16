import { Button, Checkbox, Group, NativeSelect, SegmentedControl, SimpleGrid, Stack, Text, Textarea, TextInput, Title } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { disposition, type Hold } from '#contract/holds';
import { ProblemList } from '../shared/problem-list.js';
import { useSession } from '../shared/session.js';
import { useDisposeHold } from './holds.queries.js';

const withoutExamination = ['scrapped', 'returned'];

/** Records a decision that people have made; the button stays shut until the caution is read. */
export function HoldDecide({ hold }: { hold: Hold }) {
  const { t } = useTranslation('holds');
  const { person } = useSession();
  const dispose = useDisposeHold(hold.id);
  const possible = hold.state === 'under-examination' ? disposition.options : disposition.options.filter((each) => withoutExamination.includes(each));
  const [what, setWhat] = useState('');
  const [some, setSome] = useState(false);
  const [ticked, setTicked] = useState<string[]>([]);
  const [draft, setDraft] = useState({ reason: '', decidedBy: person?.name ?? '', decidedRole: '' });
  const [read, setRead] = useState(false);
  const left = hold.palletList.filter((pallet) => pallet.disposition === null);
  const chosen = possible.find((each) => each === what);
  const ready = chosen !== undefined && read && draft.reason.trim().length >= 3 && draft.decidedBy.trim().length >= 2 && draft.decidedRole.trim().length >= 2 && (!some || ticked.length > 0);
  const text = (name: keyof typeof draft, label: string, description?: string) => <TextInput size="md" required label={label} description={description} inputWrapperOrder={['label', 'input', 'description', 'error']} value={draft[name]} onChange={({ currentTarget: { value } }) => setDraft((before) => ({ ...before, [name]: value }))} />;
  const send = () => {
    if (!chosen) return;
    dispose.mutate({ revision: hold.revision, disposition: chosen, pallets: some ? ticked : null, ...draft, acknowledged: true }, { onSuccess: () => { setTicked([]); setRead(false); setDraft((before) => ({ ...before, reason: '' })); } });
  };
  return (
    <section>
      <Title order={2} size="h4" pb="xs">{t('decide.title')}</Title>
      <Stack gap="sm" maw={820}>
        <NativeSelect size="md" w={320} label={t('decide.what')} description={hold.state === 'placed' ? t('decide.needsExamination') : undefined} value={chosen ?? ''} data={[{ value: '', label: '–' }, ...possible.map((value) => ({ value, label: t(`disposition.${value}`) }))]} onChange={({ currentTarget: { value } }) => setWhat(value)} />
        {left.length > 0 ? (
          <>
            <SegmentedControl size="md" aria-label={t('decide.pallets')} value={some ? 'some' : 'all'} data={[{ value: 'all', label: t('decide.allLeft') }, { value: 'some', label: t('decide.only') }]} onChange={(value) => setSome(value === 'some')} />
            {some ? <Checkbox.Group label={t('decide.pallets')} value={ticked} onChange={setTicked}><Group gap="sm" pt={4}>{left.map(({ id, code }) => <Checkbox key={id} value={code} label={code} />)}</Group></Checkbox.Group> : null}
          </>
        ) : null}
        <Textarea size="md" required label={t('decide.reason')} autosize minRows={2} maxLength={4000} value={draft.reason} onChange={({ currentTarget: { value } }) => setDraft((before) => ({ ...before, reason: value }))} />
        <SimpleGrid cols={{ base: 1, sm: 2 }}>{text('decidedBy', t('decide.by'))}{text('decidedRole', t('decide.role'), t('decide.roleHint'))}</SimpleGrid>
        <Checkbox size="md" checked={read} onChange={({ currentTarget: { checked } }) => setRead(checked)} label={<Text component="span" fw={600}>{t('decide.ack')}</Text>} />
        <ProblemList error={dispose.error} />
        <Group><Button size="md" disabled={!ready} loading={dispose.isPending} onClick={send}>{t('decide.record')}</Button></Group>
      </Stack>
    </section>
  );
}
