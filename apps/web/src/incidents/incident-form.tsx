import { Button, FileInput, Group, NativeSelect, SegmentedControl, SimpleGrid, Stack, Text, Textarea, TextInput } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { useTranslation } from 'react-i18next';
import type { DefectEntry } from '#contract/knowledge';
import type { PlantTree } from '#contract/plant';
import { DefectPicker } from '../shared/defect-picker.js';
import { useFormat } from '../shared/format.js';
import { ProblemList } from '../shared/problem-list.js';
import { CanCodeField } from './can-code-field.js';
import { dropMeaning, takeMarks, takeMeaning } from './code-reading.js';
import { type DraftField, type IncidentDraft, readDraft } from './incident-draft.js';
import { MadeAtChoice } from './made-at-choice.js';
import type { NewIncidentBody } from './incidents.queries.js';

const kinds = ['complaint', 'in-house'] as const;

/** One page, in the order in which a complaint is told. Choosing the product fills in its customer and, where only one is left, the line. */
export function IncidentForm({ first, defects, leakPlaces, lines, products, busy, error, onLog }: {
  first: IncidentDraft; defects: readonly DefectEntry[]; leakPlaces: readonly string[]; lines: PlantTree['lines']; products: PlantTree['products']; busy: boolean; error: unknown; onLog: (body: NewIncidentBody, photos: readonly File[]) => void;
}) {
  const { t } = useTranslation('incidents');
  const { t: life } = useTranslation('incidentLife');
  const format = useFormat();
  const [onlyLine] = lines.length === 1 ? lines : [];
  const [draft, setDraft] = useState({ ...first, lineId: onlyLine ? String(onlyLine.id) : first.lineId });
  const [photos, setPhotos] = useState<File[]>([]);
  const [asked, setAsked] = useState(false);
  const { body, faults } = readDraft(draft, format);
  const set = (change: Partial<IncidentDraft>) => setDraft((before) => ({ ...before, ...change }));
  const said = (field: DraftField) => {
    const fault = asked ? faults[field] : undefined;
    return fault === undefined ? undefined : fault === 'time' ? t('form.badTime') : fault === 'leaking' ? t('form.moreLeaking') : fault === 'cans' ? t('form.cansNeeded') : t('form.needed');
  };
  const text = (field: 'customer' | 'receivedAt' | 'dueAt' | 'cansComplained' | 'cansExamined' | 'cansLeaking', label: string, more: { description?: string; required?: boolean; type?: string; maxLength?: number; inputMode?: 'numeric' } = {}) => (
    <TextInput size="md" label={label} value={draft[field]} error={said(field)} onChange={({ currentTarget }) => set({ [field]: currentTarget.value })} {...more} />
  );
  const known = lines.find(({ id }) => String(id) === draft.lineId);
  const heads = (known?.steps ?? []).filter(({ kind }) => kind === 'seamer' || kind === 'flanger').flatMap(({ machines }) => machines.flatMap((machine) => machine.units.map((unit) => ({ value: String(unit.id), label: t('form.headOption', { machine: machine.code, unit: unit.code }) }))));
  const options = (rows: readonly { id: number; code: string; name: string }[]) => [{ value: '', label: t('form.choose') }, ...rows.map((row) => ({ value: String(row.id), label: t('form.option', row) }))];
  const submit = (event: FormEvent) => {
    event.preventDefault();
    setAsked(true);
    if (body) onLog(body, photos);
  };
  return (
    <form onSubmit={submit} noValidate>
      <Stack gap="md" maw={900}>
        <SegmentedControl size="md" aria-label={t('form.kind')} value={draft.kind} data={kinds.map((kind) => ({ value: kind, label: t(`kind.${kind}`) }))} onChange={(value) => set({ kind: value === 'in-house' ? 'in-house' : 'complaint' })} />
        <SimpleGrid cols={{ base: 1, sm: 2 }}>
          <NativeSelect size="md" label={t('form.product')} required value={draft.productId} data={options(products)} error={said('productId')}
            onChange={({ currentTarget: { value } }) => set({ productId: value, customer: products.find(({ id }) => String(id) === value)?.customer ?? draft.customer })} />
          <NativeSelect size="md" label={t('form.line')} required value={draft.lineId} data={options(lines)} error={said('lineId')} onChange={({ currentTarget: { value } }) => set({ ...dropMeaning, lineId: value, laneId: '', unitId: '' })} />
          {text('customer', t('form.customer'), { required: true, maxLength: 200 })}
          <CanCodeField code={draft.canCode} receivedAt={format.fromInput(draft.receivedAt)} taken={draft.taken} ownTime={draft.madeAt !== '' && draft.taken === ''} onCode={(canCode) => set({ canCode, ...(draft.taken === '' ? {} : { ...dropMeaning, madeAt: '', laneId: '', unitId: '' }), ...(draft.marksOf === '' ? {} : { marksOf: '', laneId: '', unitId: '' }) })} onMeaning={(meaning) => set(takeMeaning(meaning, format))} onMarks={(meanings, code) => set(takeMarks(meanings, code, draft) ?? {})} />
          <Stack gap={4}>
            <TextInput size="md" label={t('form.madeAt')} type="datetime-local" required description={t('form.madeAtHint', { zone: format.timeZone })} value={draft.madeAt} error={said('madeAt')} onChange={({ currentTarget: { value } }) => set({ ...dropMeaning, madeAt: value })} />
            {draft.taken === '' ? <MadeAtChoice typed={draft.madeAt} chosen={draft.madeFrom} onChoose={(madeFrom) => set({ madeFrom })} /> : null}
          </Stack>
          {known && known.lanes.length > 0 ? <NativeSelect size="md" label={t('form.lane')} description={t('form.unknownHint')} value={draft.laneId} data={[{ value: '', label: t('form.unknown') }, ...known.lanes.map((lane) => ({ value: String(lane.id), label: t('form.option', lane) }))]} onChange={({ currentTarget: { value } }) => set({ laneId: value, marksOf: '' })} /> : null}
          {heads.length > 0 ? <NativeSelect size="md" label={t('form.head')} description={t('form.unknownHint')} value={draft.unitId} data={[{ value: '', label: t('form.unknown') }, ...heads]} onChange={({ currentTarget: { value } }) => set({ unitId: value, marksOf: '' })} /> : null}
          {text('receivedAt', t('form.receivedAt'), { type: 'datetime-local', required: true, description: t('form.receivedAtHint', { zone: format.timeZone }) })}
        </SimpleGrid>
        <SimpleGrid cols={{ base: 1, sm: 3 }}>
          {text('cansComplained', t('form.complained'), { required: draft.kind === 'complaint', inputMode: 'numeric' })}
          {text('cansExamined', t('form.examined'), { required: true, inputMode: 'numeric', description: t('form.examinedHint') })}
          {text('cansLeaking', t('form.leaking'), { required: true, inputMode: 'numeric' })}
        </SimpleGrid>
        <NativeSelect size="md" label={t('form.place')} required value={draft.leakPlace} error={said('leakPlace')} data={[{ value: '', label: t('form.choose') }, ...leakPlaces]} onChange={({ currentTarget: { value } }) => set({ leakPlace: value })} />
        <DefectPicker label={t('form.defect')} choose={t('form.choose')} defects={defects} value={draft.defect} error={said('defect')} onChange={(defect) => set({ defect })} />
        <Textarea size="md" label={t('form.description')} description={t('form.descriptionHint')} required autosize minRows={3} maxLength={8000} value={draft.description} error={said('description')} onChange={({ currentTarget }) => set({ description: currentTarget.value })} />
        <Textarea size="md" label={t('form.containment')} description={t('form.containmentHint')} autosize minRows={2} maxLength={8000} value={draft.containment} onChange={({ currentTarget }) => set({ containment: currentTarget.value })} />
        {text('dueAt', life('form.due'), { type: 'datetime-local', description: life('form.dueHint', { zone: format.timeZone }) })}
        <FileInput size="md" placeholder={t('form.choosePhotos')} label={t('form.photos')} description={t('form.photosHint')} multiple clearable clearButtonProps={{ 'aria-label': t('form.clearPhotos') }} accept="image/jpeg,image/png,image/webp" value={photos} onChange={setPhotos} />
        {asked && body === null ? <Text role="alert">{t('form.incomplete', { count: Object.keys(faults).length })}</Text> : null}
        {error ? <ProblemList error={error} /> : null}
        <Group><Button type="submit" size="md" loading={busy}>{t('form.save')}</Button></Group>
      </Stack>
    </form>
  );
}
