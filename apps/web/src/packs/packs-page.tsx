import { Button, Checkbox, Group, NativeSelect, Stack, Text, TextInput } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import type { listPackChoices } from '#contract/packs';
import type { AnswerOf } from '#contract/endpoint';
import { useAddressParams } from '../shared/address-params.js';
import { useFormat } from '../shared/format.js';
import { NotForAuditors } from '../shared/not-for-auditors.js';
import { usePerson } from '../shared/session.js';
import { EmptyState, Page, QueryView } from '../shared/states.js';
import { MakePack } from './make-pack.js';
import { PackList } from './pack-list.js';
import { PackTemplate } from './pack-template.js';
import { KeptStudies } from './kept-studies.js';
import { usePackChoices } from './packs.queries.js';
import { type PackView, packMoments, readPacksUrl, writePacksUrl } from './packs.url.js';

type PackCustomer = AnswerOf<typeof listPackChoices>['customers'][number];

/** From the choice to what would fail the audit, to the pack; below it the packs that were made. An auditor has those of their customer and period. */
export function PacksPage() {
  const { t } = useTranslation('packs');
  const isAuditor = usePerson().role === 'auditor';
  return (
    <Page title={t('title')}>
      <Text maw={760}>{isAuditor ? t('introAuditor') : t('intro')}</Text>
      <NotForAuditors><Choices /></NotForAuditors>
      <PackList />
    </Page>
  );
}

function Choices() {
  const { t } = useTranslation('packs');
  const choices = usePackChoices();
  return (
    <QueryView query={choices} what={t('loadingChoices')} isEmpty={({ customers }) => customers.length === 0} empty={<EmptyState title={t('none.title')} text={t('none.text')} action={<Button component={Link} variant="default" size="md" to="/set-up?section=products">{t('none.action')}</Button>} />}>
      {({ customers }) => <Choice customers={customers} />}
    </QueryView>
  );
}

function Choice({ customers }: { customers: readonly PackCustomer[] }) {
  const { t } = useTranslation('packs');
  const format = useFormat();
  const [params, changeParams] = useAddressParams();
  const view = readPacksUrl(params, customers, format);
  const change = (next: Partial<PackView>) => changeParams((now) => writePacksUrl(now, { ...readPacksUrl(now, customers, format), ...next }), { replace: true });
  const customer = customers.find((each) => each.customer === view.customer);
  const moments = packMoments(view, format);
  return (
    <Stack gap="md">
      <Group gap="md" align="end">
        <NativeSelect size="md" label={t('pick.customer')} value={view.customer} data={customers.map((each) => each.customer)} onChange={({ currentTarget: { value } }) => changeParams(() => new URLSearchParams({ customer: value }), { replace: true })} />
        {(['from', 'to'] as const).map((name) => <TextInput key={name} type="date" size="md" label={t(`pick.${name}`)} value={view[name]} onChange={({ currentTarget: { value } }) => { if (value) change({ [name]: value }); }} />)}
      </Group>
      <Checkbox.Group label={t('pick.products')} value={view.products.map(String)} onChange={(values) => change({ products: values.map(Number) })}>
        <Group gap="md" pt={4}>{customer?.products.map(({ id, code, name }) => <Checkbox key={id} size="md" value={String(id)} label={`${code} ${name}`} />)}</Group>
      </Checkbox.Group>
      <KeptStudies chosen={view.studies} onChoose={(studies) => change({ studies })} />
      <PackTemplate key={view.customer} customer={view.customer} />
      {view.products.length === 0 ? <Text role="status">{t('pick.noProduct')}</Text> : moments === null ? <Text role="status">{t('pick.badPeriod')}</Text> : <MakePack view={view} moments={moments} />}
    </Stack>
  );
}
