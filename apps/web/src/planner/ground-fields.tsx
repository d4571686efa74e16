import { Button, Group, NativeSelect, Paper, Stack, Text, TextInput, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import type { StreamVariation } from '#contract/planner';
import { useFormat } from '../shared/format.js';
import { FigureField } from './figure-field.js';
import { LIMITS, type PlannerView, SOURCES } from './planner.url.js';
import type { Ground } from './start-plans.js';

/** The figures that every plan is computed with: measured ones, or what is typed over them. */
export function GroundFields({ ground, view, variation, onChange }: { ground: Ground; view: PlannerView; variation: StreamVariation | null; onChange: (change: Partial<PlannerView>) => void }) {
  const { t } = useTranslation('planner');
  const format = useFormat();
  const withUnit = (text: string) => (ground.unit === '' ? text : t('fields.withUnit', { name: text, unit: ground.unit }));
  // Typed figures are shown as they were typed, measured ones in three digits.
  const shown = (value: number | null, isTyped: boolean) => (value === null ? '' : isTyped ? String(value) : String(Number(value.toPrecision(3))));
  const sds = (source: (typeof SOURCES)[number], value: number | null) => {
    const { [source]: _former, ...rest } = view.sds ?? {};
    return { sds: value === null ? rest : { ...rest, [source]: value } };
  };
  const isTyped = view.sds !== undefined && Object.keys(view.sds).length > 0;
  const speed = variation?.speed;
  return (
    <Paper withBorder p="md" component="section">
      <Stack gap="sm">
        <Title order={2} size="h4">{t('fields.title')}</Title>
        <Group gap="sm" align="flex-start">
          {variation ? null : <TextInput size="sm" w={90} label={t('fields.unit')} maxLength={12} value={view.unit ?? ''} onChange={({ currentTarget: { value } }) => onChange({ unit: value === '' ? undefined : value })} />}
          {SOURCES.map((source) => (
            <FigureField key={source} name="sd" label={withUnit(t(`fields.sd.${source}`))} value={ground.sds[source]} shown={shown(ground.sds[source], view.sds?.[source] !== undefined)}
              onCommit={(value) => onChange(sds(source, value))} onEmpty={() => onChange(sds(source, null))} />
          ))}
          <FigureField name="shift" label={withUnit(t('fields.shift'))} value={ground.shift} onCommit={(shift) => onChange({ shift })} onEmpty={() => onChange({ shift: undefined })} />
        </Group>
        <Group gap="sm" align="flex-start">
          <FigureField name="speed" label={t('fields.speed')} value={ground.speed} shown={shown(ground.speed, view.speed !== undefined)} onCommit={(value) => onChange({ speed: value })} onEmpty={() => onChange({ speed: undefined })} />
          <FigureField name="hours" label={t('fields.hours')} value={ground.hours} shown={shown(ground.hours, view.hours !== undefined)} onCommit={(hours) => onChange({ hours })} onEmpty={() => onChange({ hours: undefined })} />
          <NativeSelect size="sm" label={t('fields.limits')} value={ground.limits} data={LIMITS.map((value) => ({ value, label: t(`fields.limitsFrom.${value}`) }))}
            onChange={({ currentTarget: { value } }) => onChange({ limits: LIMITS.find((name) => name === value) })} />
        </Group>
        {variation && isTyped ? <Group><Button size="sm" variant="default" onClick={() => onChange({ sds: undefined })}>{t('fields.measured')}</Button></Group> : null}
        {speed ? <Text size="sm">{t(speed.share > 1 ? 'fields.speedShared' : 'fields.speedOf', { cans: format.number(speed.machineCansPerMinute, 0), share: speed.share, own: format.number(speed.cansPerMinute, 1), days: speed.days, hours: format.number(speed.hoursPerDay, 1) })}</Text> : null}
        {ground.speed === null ? <Text role="status">{t('fields.noSpeed')}</Text> : null}
      </Stack>
    </Paper>
  );
}
