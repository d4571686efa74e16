import './capability-sheet.css';
import { Button, Stack } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { type CapabilityChoice, type CapabilityStudy, getCapabilityCsv } from '#contract/studies';
import { useAddressParams } from '../shared/address-params.js';
import { useFormat } from '../shared/format.js';
import { address } from '../shared/http.js';
import { EmptyState, Page, QueryView } from '../shared/states.js';
import { CapabilityEvidence } from './capability-evidence.js';
import { CapabilityHeadline } from './capability-headline.js';
import { CapabilityPicker } from './capability-choice.js';
import { CapabilityPicture } from './capability-picture.js';
import { CapabilitySheetHead } from './capability-sheet-head.js';
import { CapabilityTable } from './capability-table.js';
import { type CapabilityView, changeCapabilityView, readCapabilityUrl, writeCapabilityUrl } from './capability.url.js';
import { KeepCapability } from './keep-capability.js';
import { momentsOf, studyPeriod } from './study-period.js';
import { rowKey } from './study-words.js';
import { useCapability, useCapabilityChoices } from './studies.queries.js';

export function CapabilityPage() {
  const { t } = useTranslation('studies');
  const choices = useCapabilityChoices();
  return (
    <QueryView query={choices} what={t('loadingChoices')} isEmpty={(data) => data.choices.length === 0} empty={<Page title={t('title')}><EmptyState title={t('none.title')} text={t('none.text')} /></Page>}>
      {(data) => <ChosenStudy choices={data.choices} />}
    </QueryView>
  );
}

/** The address says what is shown; the choice fills in the period. */
function ChosenStudy({ choices }: { choices: readonly CapabilityChoice[] }) {
  const { t } = useTranslation('studies');
  const format = useFormat();
  const [params, changeParams] = useAddressParams();
  const view = readCapabilityUrl(params);
  const change = (next: CapabilityView) => changeParams((now) => writeCapabilityUrl(changeCapabilityView(readCapabilityUrl(now), next)), { replace: true });
  const choice = choices.find(({ product, machine, characteristic }) => product.id === view.product && machine.id === view.machine && characteristic.id === view.characteristic);
  const period = choice ? studyPeriod(view, choice, format) : null;
  const moments = period && momentsOf(period, format);
  const query = choice && moments ? { product: choice.product.id, machine: choice.machine.id, characteristic: choice.characteristic.id, ...moments, unit: view.unit, lane: view.lane } : null;
  const study = useCapability(query);
  const actions = query && choice && study.isSuccess ? (
    <>
      <KeepCapability query={query} choice={choice} />
      <Button component="a" variant="default" size="md" href={address(getCapabilityCsv, { query })} download>{t('csv')}</Button>
      <Button variant="default" size="md" onClick={() => window.print()}>{t('print')}</Button>
    </>
  ) : null;
  return (
    <Page title={t('title')} actions={actions}>
      <CapabilityPicker choices={choices} view={view} period={period} onChange={change} />
      {!choice ? <EmptyState title={t('choose.title')} text={t('choose.text')} /> : !query ? <EmptyState title={t('badPeriod.title')} text={t('badPeriod.text')} /> : (
        <QueryView query={study} what={t('loading')}>{(data) => <Study study={data} row={view.row} onShow={(row) => change({ row })} />}</QueryView>
      )}
    </Page>
  );
}

function Study({ study, row, onShow }: { study: CapabilityStudy; row: CapabilityView['row']; onShow: (row: number | 'pooled') => void }) {
  const all = study.pooled ? [...study.streams, study.pooled] : study.streams;
  const shown = all.find((entry) => rowKey(entry) === row) ?? all[0];
  if (!shown) return null;
  return (
    <Stack gap="md" className="capability-sheet">
      <CapabilitySheetHead study={study} />
      <CapabilityHeadline study={study} />
      <CapabilityPicture study={study} entry={shown} />
      <CapabilityTable study={study} shown={shown} onShow={onShow} />
      <CapabilityEvidence study={study} />
    </Stack>
  );
}
