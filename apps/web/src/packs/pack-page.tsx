import { Alert, Button, Group, NativeSelect, Stack, Text, Title } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { Link, useParams } from 'react-router';
import { getPackJson, getPackPdf, getPackXlsx, type PackLanguage, packLanguage } from '#contract/packs';
import { useFormat } from '../shared/format.js';
import { address } from '../shared/http.js';
import { RecordSignatures } from '../shared/record-signatures.js';
import { Page, QueryView } from '../shared/states.js';
import { FindingList } from './finding-list.js';
import { usePack } from './packs.queries.js';
import { VerifyPack } from './verify-pack.js';

/** One pack: what it holds, its files, whether it is still true, who signed it. */
export function PackPage() {
  const { t } = useTranslation('packs');
  const format = useFormat();
  const id = Number(useParams()['id']);
  const query = usePack(id);
  const [language, setLanguage] = useState<PackLanguage>('en');
  return (
    <QueryView query={query} what={t('loadingOne')}>{(pack) => {
      const lastDay = new Date(new Date(pack.to).getTime() - 1).toISOString();
      const given = { params: { id }, query: { language } };
      const days = { from: format.toInput(pack.from).slice(0, 10), to: format.toInput(lastDay).slice(0, 10) };
      return (
        <Page title={pack.title} actions={<Button component={Link} variant="default" size="md" to="/packs">{t('one.back')}</Button>}>
          <Text maw={860}>{t('one.facts', { customer: pack.customer, products: pack.products.join(', '), from: format.date(pack.from), to: format.date(lastDay), count: pack.subjects, readings: format.number(pack.readings, 0), at: format.dateTime(pack.madeAt), name: pack.madeBy })}</Text>
          <Text fw={600}>{t(`states.${pack.state}`)}</Text>
          {pack.stale ? <Alert color="gray" title={t('one.stale')}><Text>{t('one.staleText')}</Text></Alert> : null}
          <Group gap="sm" align="end">
            <NativeSelect size="md" label={t('one.language')} value={language} data={packLanguage.options.map((value) => ({ value, label: t(`one.languages.${value}`) }))} onChange={({ currentTarget: { value } }) => setLanguage(packLanguage.parse(value))} />
            <Button component="a" size="md" href={address(getPackPdf, given)} download>{t('one.pdf')}</Button>
            <Button component="a" variant="default" size="md" href={address(getPackXlsx, given)} download>{t('one.xlsx')}</Button>
            <Button component="a" variant="default" size="md" href={address(getPackJson, { params: { id } })} download>{t('one.json')}</Button>
          </Group>
          <Stack gap={0}>
            <Text size="sm" className="hash">{t('one.hash', { hash: pack.sha256 })}</Text>
            {pack.chainHead ? <Text size="sm" className="hash">{t('one.head', pack.chainHead)}</Text> : null}
            <Text size="sm">{t('one.version', { version: pack.softwareVersion })}</Text>
          </Stack>
          <section aria-labelledby="pack-findings">
            <Title order={2} size="h4" pb="xs" id="pack-findings">{t('one.findings')}</Title>
            {pack.findingList.length === 0 ? <Text>{t('one.noFindings')}</Text> : <FindingList findings={pack.findingList} days={days} />}
          </section>
          <VerifyPack id={id} />
          <RecordSignatures kind="pack" recordId={id} meanings={['reviewed', 'approved']} />
        </Page>
      );
    }}</QueryView>
  );
}
