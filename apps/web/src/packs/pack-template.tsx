import { Button, Checkbox, Collapse, Group, NumberInput, Stack, Text, TextInput, Title } from '@mantine/core';
import { type FormEvent, useId, useState } from 'react';
import { useTranslation } from 'react-i18next';
import { packSections, type PackTemplateView } from '#contract/packs';
import { engineers } from '#contract/roles';
import { useFormat } from '../shared/format.js';
import { ProblemList } from '../shared/problem-list.js';
import { useMay } from '../shared/session.js';
import { QueryView } from '../shared/states.js';
import { usePackTemplates, useSetTemplate } from './packs.queries.js';

/** Thresholds and sections that one customer asks for; closed until somebody wants to see them. */
export function PackTemplate({ customer }: { customer: string }) {
  const { t } = useTranslation('packs');
  const query = usePackTemplates();
  const [isOpen, setOpen] = useState(false);
  const place = useId();
  return (
    <Stack gap="sm">
      <Button variant="default" size="md" style={{ alignSelf: 'flex-start' }} aria-expanded={isOpen} aria-controls={place} onClick={() => setOpen(!isOpen)}>{t('template.open')}</Button>
      <Collapse expanded={isOpen} id={place}>
        <QueryView query={query} what={t('template.open')}>{({ usual, templates }) => {
          const own = templates.find((each) => each.customer === customer);
          return <TemplateForm key={own?.version ?? 0} customer={customer} start={own ?? usual} own={own} />;
        }}</QueryView>
      </Collapse>
    </Stack>
  );
}

function TemplateForm({ customer, start, own }: { customer: string; start: PackTemplateView; own?: { version: number; at: string; by: string; reason: string } }) {
  const { t } = useTranslation('packs');
  const format = useFormat();
  const [mayChange, set] = [useMay(engineers), useSetTemplate()];
  const [draft, setDraft] = useState({ cpk: start.cpk, ppk: start.ppk, subgroups: start.subgroups, sections: [...start.sections] });
  const [reason, setReason] = useState('');
  const submit = (event: FormEvent) => { event.preventDefault(); set.mutate({ customer, ...draft, reason: reason.trim() }); };
  return (
    <form onSubmit={submit}>
      <Stack gap="sm" maw={760}>
        <Title order={2} size="h4">{t('template.title', { customer })}</Title>
        <Text c="dimmed">{own ? t('template.version', { ...own, at: format.date(own.at) }) : t('template.usual')}</Text>
        <Group gap="md">
          {(['cpk', 'ppk', 'subgroups'] as const).map((name) => <NumberInput key={name} size="md" w={160} label={t(`template.${name}`)} readOnly={!mayChange} min={name === 'subgroups' ? 2 : 0} max={name === 'subgroups' ? 1000 : 10} step={name === 'subgroups' ? 1 : 0.01} decimalScale={name === 'subgroups' ? 0 : 3} value={draft[name]} onChange={(value) => { if (typeof value === 'number') setDraft({ ...draft, [name]: value }); }} />)}
        </Group>
        <Checkbox.Group label={t('template.sections')} readOnly={!mayChange} value={draft.sections} onChange={(values) => setDraft({ ...draft, sections: packSections.filter((section) => values.includes(section)) })}>
          <Group gap="md" pt={4}>{packSections.map((section) => <Checkbox key={section} size="md" value={section} label={t(`template.section.${section}`)} />)}</Group>
        </Checkbox.Group>
        {mayChange ? (
          <Group gap="md" align="end">
            <TextInput size="md" w={360} label={t('template.reason')} required value={reason} maxLength={500} onChange={({ currentTarget: { value } }) => setReason(value)} />
            <Button type="submit" size="md" variant="default" loading={set.isPending} disabled={reason.trim() === '' || draft.sections.length === 0}>{t('template.save')}</Button>
          </Group>
        ) : null}
        <ProblemList error={set.error} />
      </Stack>
    </form>
  );
}
