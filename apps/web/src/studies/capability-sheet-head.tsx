import { Fragment } from 'react';
import { useTranslation } from 'react-i18next';
import type { CapabilityStudy } from '#contract/studies';
import { useFormat } from '../shared/format.js';

/** What the sheet is of. On paper it stands alone: nothing of the screen around it is printed. */
export function CapabilitySheetHead({ study: { plant, product, machine, characteristic, period, softwareVersion } }: { study: CapabilityStudy }) {
  const { t } = useTranslation('studies');
  const format = useFormat();
  // The period ends before `to`: its last day is the one of the moment before.
  const lastMoment = new Date(new Date(period.to).getTime() - 1).toISOString();
  const rows = [
    [t('sheet.plant'), plant.name], [t('sheet.product'), t('pick.named', product)], [t('sheet.customer'), product.customer], [t('sheet.machine'), t('sheet.line', machine)],
    [t('sheet.characteristic'), t('picture.axis', characteristic)], [t('sheet.period'), t('sheet.days', { from: format.date(period.from), to: format.date(lastMoment), zone: plant.timeZone })], [t('sheet.version'), softwareVersion],
  ] as const;
  return <dl className="sheet-head">{rows.map(([name, value]) => <Fragment key={name}><dt>{name}</dt><dd>{value}</dd></Fragment>)}</dl>;
}
