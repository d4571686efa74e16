import { Button, Group, Modal, NativeSelect, Stack, Text, TextInput } from '@mantine/core';
import { useDisclosure } from '@mantine/hooks';
import { type FormEvent, useState } from 'react';
import { useTranslation } from 'react-i18next';
import type { PlantTree } from '#contract/plant';
import { lineEventKind, lineEventKinds } from '#contract/production';
import { recorders } from '#contract/roles';
import { useFormat } from './format.js';
import { useRecordLineEvent } from './line-events.queries.js';
import { usePlant } from './plant.queries.js';
import { ProblemList } from './problem-list.js';
import { useMay } from './session.js';
import { QueryView } from './states.js';

/** The button and the small form for what happened to a line: a wire change, a stop, a setting. */
export function LineEventButton() {
  const { t } = useTranslation('production');
  const may = useMay(recorders);
  const [opened, { open, close }] = useDisclosure(false);
  const format = useFormat();
  const [saved, setSaved] = useState('');
  const lines = usePlant();
  if (!may) return null;
  return (
    <>
      {saved ? <Text role="status">{saved}</Text> : null}
      <Button size="md" variant="default" onClick={open}>{t('form.open')}</Button>
      <Modal opened={opened} onClose={close} title={t('form.title')}>
        <QueryView query={lines} what={t('form.loading')}>
          {(plant) => <LineEventForm plant={plant} cancel={close} done={(kind, at) => { setSaved(t('form.saved', { kind: t(`kinds.${kind}`), at: format.dateTime(at) })); close(); }} />}
        </QueryView>
      </Modal>
    </>
  );
}

type Kind = (typeof lineEventKinds)[number];

function LineEventForm({ plant, cancel, done }: { plant: PlantTree; cancel: () => void; done: (kind: Kind, at: string) => void }) {
  const { t } = useTranslation('production');
  const format = useFormat();
  const send = useRecordLineEvent();
  const [lineId, setLineId] = useState(plant.lines[0]?.id ?? 0);
  const [machineId, setMachineId] = useState('');
  const [kind, setKind] = useState<Kind>('stop');
  const [at, setAt] = useState(() => format.toInput(new Date().toISOString()));
  const [until, setUntil] = useState('');
  const [text, setText] = useState('');
  const [wrong, setWrong] = useState<{ at?: string; until?: string; text?: string }>({});
  const machines = plant.lines.find(({ id }) => id === lineId)?.steps.flatMap((step) => step.machines.filter(({ retired }) => !retired)) ?? [];
  const submit = (event: FormEvent) => {
    event.preventDefault();
    const [begin, end] = [format.fromInput(at), until === '' ? null : format.fromInput(until)];
    const errors = { ...(begin === null && { at: t('form.badTime') }), ...(until !== '' && end === null && { until: t('form.badTime') }), ...(text.trim() === '' && { text: t('form.needText') }) };
    setWrong(errors);
    if (begin === null || Object.keys(errors).length > 0) return;
    send.mutate({ lineId, machineId: machineId === '' ? null : Number(machineId), kind, at: begin, until: end, text }, { onSuccess: () => done(kind, begin) });
  };
  return (
    <form onSubmit={submit} noValidate>
      <Stack gap="sm">
        <NativeSelect size="md" label={t('form.line')} value={lineId} onChange={({ currentTarget: { value } }) => { setLineId(Number(value)); setMachineId(''); }} data={plant.lines.map(({ id, code, name }) => ({ value: String(id), label: `${code} ${name}` }))} />
        <NativeSelect size="md" label={t('form.machine')} value={machineId} onChange={({ currentTarget: { value } }) => setMachineId(value)} data={[{ value: '', label: t('form.wholeLine') }, ...machines.map(({ id, code, name }) => ({ value: String(id), label: `${code} ${name}` }))]} />
        <NativeSelect size="md" label={t('form.kind')} value={kind} onChange={({ currentTarget: { value } }) => { const known = lineEventKind.safeParse(value); if (known.success) setKind(known.data); }} data={lineEventKinds.map((value) => ({ value, label: t(`kinds.${value}`) }))} />
        <TextInput size="md" type="datetime-local" label={t('form.at')} value={at} onChange={({ currentTarget: { value } }) => setAt(value)} error={wrong.at} required />
        <TextInput size="md" type="datetime-local" label={t('form.until')} value={until} onChange={({ currentTarget: { value } }) => setUntil(value)} error={wrong.until} />
        <TextInput size="md" label={t('form.text')} description={t('form.textHint')} value={text} onChange={({ currentTarget: { value } }) => setText(value)} error={wrong.text} maxLength={200} required />
        <ProblemList error={send.error} />
        <Group justify="flex-end"><Button size="md" variant="default" onClick={cancel}>{t('form.cancel')}</Button><Button size="md" type="submit" loading={send.isPending}>{t('form.save')}</Button></Group>
      </Stack>
    </form>
  );
}
