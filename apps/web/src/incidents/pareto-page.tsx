import { Anchor, Box, Button, Group, NativeSelect, Stack, Table, TextInput } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import { type IncidentPareto, paretoBy } from '#contract/incident-life';
import { causeCategory } from '#contract/incident-shapes';
import { useAddressParams } from '../shared/address-params.js';
import { useFormat } from '../shared/format.js';
import { EmptyState, Page, QueryView } from '../shared/states.js';
import { ComplaintGapsSection } from './complaint-gaps-section.js';
import { usePareto } from './incident-life.queries.js';
import { type ParetoView, paretoQuery, readParetoUrl, writeParetoUrl } from './pareto.url.js';

/** How often, of what, and how many cans lie between; the view is in the address. */
export function ParetoPage() {
  const { t } = useTranslation('incidentLife');
  const format = useFormat();
  const [params, changeParams] = useAddressParams();
  const view = readParetoUrl(params);
  const change = (next: Partial<ParetoView>) => changeParams((now) => writeParetoUrl({ ...readParetoUrl(now), ...next }), { replace: true });
  const pareto = usePareto(paretoQuery(view, format.fromInput));
  const filtered = [view.customer, view.line, view.kind, view.from, view.to].some((value) => value !== undefined);
  return (
    <Page title={t('pareto.title')} actions={<Button component={Link} to="/incidents" variant="default" size="md">{t('pareto.back')}</Button>}>
      <QueryView query={pareto} what={t('pareto.loading')}>
        {(data) => (
          <Stack gap="lg">
            <Group align="flex-end" gap="sm" className="no-print">
              <NativeSelect size="md" label={t('pareto.by')} value={view.by} data={paretoBy.options.map((value) => ({ value, label: t(`pareto.bys.${value}`) }))} onChange={({ currentTarget: { value } }) => change({ by: paretoBy.options.find((known) => known === value) ?? 'defect' })} />
              <NativeSelect size="md" label={t('pareto.weight')} value={view.weight} data={(['incidents', 'cans'] as const).map((value) => ({ value, label: t(`pareto.weights.${value}`) }))} onChange={({ currentTarget: { value } }) => change({ weight: value === 'cans' ? 'cans' : 'incidents' })} />
              <NativeSelect size="md" label={t('pareto.customer')} value={view.customer ?? ''} data={[{ value: '', label: t('pareto.anyCustomer') }, ...data.customers]} onChange={({ currentTarget: { value } }) => change({ customer: value || undefined })} />
              <NativeSelect size="md" label={t('pareto.line')} value={String(view.line ?? '')} data={[{ value: '', label: t('pareto.anyLine') }, ...data.lines.map((line) => ({ value: String(line.id), label: t('step.option', line) }))]} onChange={({ currentTarget: { value } }) => change({ line: value === '' ? undefined : Number(value) })} />
              <NativeSelect size="md" label={t('pareto.kind')} value={view.kind ?? ''} data={[{ value: '', label: t('pareto.anyKind') }, ...(['complaint', 'in-house'] as const).map((value) => ({ value, label: t(`pareto.kinds.${value}`) }))]} onChange={({ currentTarget: { value } }) => change({ kind: value === 'complaint' || value === 'in-house' ? value : undefined })} />
              <TextInput size="md" type="date" label={t('pareto.from')} value={view.from ?? ''} onChange={({ currentTarget: { value } }) => change({ from: value || undefined })} />
              <TextInput size="md" type="date" label={t('pareto.to')} value={view.to ?? ''} onChange={({ currentTarget: { value } }) => change({ to: value || undefined })} />
              {filtered ? <Button variant="subtle" size="md" onClick={() => changeParams(() => writeParetoUrl({ by: view.by, weight: view.weight, alpha: view.alpha }))}>{t('pareto.clear')}</Button> : null}
            </Group>
            {data.bars.length === 0 ? <EmptyState title={t('pareto.none.title')} text={t('pareto.none.text')} /> : <Bars data={data} />}
            <ComplaintGapsSection view={view} onAlpha={(alpha) => change({ alpha })} />
          </Stack>
        )}
      </QueryView>
    </Page>
  );
}

function Bars({ data }: { data: IncidentPareto }) {
  const { t } = useTranslation('incidentLife');
  const format = useFormat();
  const percent = (share: number) => t('pareto.percent', { value: format.number(100 * share, 0) });
  const most = Math.max(1e-9, ...data.bars.map(({ share }) => share));
  const nameOf = ({ value, name }: IncidentPareto['bars'][number]) => {
    const category = causeCategory.options.find((known) => known === value);
    if (value === null) return data.by === 'machine' ? t('pareto.notKnown.machine') : data.by === 'category' ? t('pareto.notKnown.category') : t('pareto.notKnown.other');
    return data.by === 'category' && category ? t(`category.${category}`) : data.by === 'machine' ? t('step.option', { code: value, name }) : name;
  };
  return (
    <Table.ScrollContainer minWidth={720}>
      <Table verticalSpacing="xs">
        <Table.Caption>{t('pareto.caption', { by: t(`pareto.bys.${data.by}`), incidents: data.incidents, cans: data.cansComplained })}</Table.Caption>
        <Table.Thead><Table.Tr><Table.Th scope="col">{t('pareto.name')}</Table.Th><Table.Th scope="col" w="35%">{t('pareto.bar')}</Table.Th>{(['incidents', 'cans', 'share', 'cumulative'] as const).map((head) => <Table.Th key={head} scope="col" ta="right">{t(`pareto.${head}`)}</Table.Th>)}</Table.Tr></Table.Thead>
        <Table.Tbody>
          {data.bars.map((bar) => (
            <Table.Tr key={bar.value ?? ''}>
              <Table.Th scope="row">{(data.by === 'customer' || data.by === 'defect') && bar.value !== null ? <Anchor component={Link} to={`/incidents?${new URLSearchParams({ [data.by]: bar.value })}`} underline="always" display="inline-block" py={4}>{nameOf(bar)}</Anchor> : nameOf(bar)}</Table.Th>
              <Table.Td><Box h={14} w={`${(100 * bar.share) / most}%`} bg="var(--mantine-primary-color-filled)" aria-hidden /></Table.Td>
              <Table.Td ta="right">{bar.incidents}</Table.Td><Table.Td ta="right">{format.number(bar.cansComplained, 0)}</Table.Td><Table.Td ta="right">{percent(bar.share)}</Table.Td><Table.Td ta="right">{percent(bar.cumulative)}</Table.Td>
            </Table.Tr>
          ))}
        </Table.Tbody>
      </Table>
    </Table.ScrollContainer>
  );
}
