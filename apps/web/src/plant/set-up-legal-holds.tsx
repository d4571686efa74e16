import { Stack } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import type { PlantTree } from '#contract/plant';
import { type LegalHold, liftLegalHold, placeLegalHold, type RetentionView } from '#contract/retention';
import { administrators } from '#contract/roles';
import { useFormat } from '../shared/format.js';
import { useMay } from '../shared/session.js';
import { type Field, SetUpForm, type Values } from './set-up-form.js';
import { SetUpTable } from './set-up-table.js';
import { useAct } from './set-up.queries.js';

/** What must not be deleted, by whom it was placed and why; lifting needs a reason and leaves it on record. */
export function LegalHolds({ view, tree }: { view: RetentionView; tree: PlantTree }) {
  const { t } = useTranslation('retention');
  const format = useFormat();
  const [place, lift] = [useAct(placeLegalHold), useAct(liftLegalHold)];
  const mayLift = useMay(administrators);
  const [editing, setEditing] = useState<number | 'new'>();
  const customers = [...new Set(tree.products.map(({ customer }) => customer))].sort();
  const productName = (id: number) => tree.products.find((product) => product.id === id)?.code ?? String(id);
  const fields: Field[] = [
    { name: 'name', label: t('holds.name'), kind: 'text', required: true },
    { name: 'customer', label: t('holds.customer'), hint: t('holds.fits'), kind: 'select', options: customers.map((value) => ({ value, label: value })) },
    { name: 'productId', label: t('holds.product'), kind: 'select', options: tree.products.map(({ id, code, name }) => ({ value: String(id), label: `${code} ${name}` })) },
    { name: 'incidentId', label: t('holds.incident'), hint: t('holds.incidentHint'), kind: 'number' },
    { name: 'from', label: t('holds.from'), kind: 'dateTime' }, { name: 'until', label: t('holds.until'), kind: 'dateTime' },
    { name: 'reason', label: t('holds.reason'), kind: 'longText', required: true },
  ];
  const moment = (text: unknown) => (typeof text === 'string' && text !== '' ? format.fromInput(text) ?? text : null);
  const toBody = ({ customer, productId, incidentId, from, until, ...rest }: Values) => ({ ...rest, customer: customer || null, productId: productId ? Number(productId) : null, incidentId: typeof incidentId === 'number' ? incidentId : null, from: moment(from), until: moment(until) });
  const keeps = (hold: LegalHold) => [
    hold.customer === null ? [] : t('holds.part.customer', { name: hold.customer }), hold.productId === null ? [] : t('holds.part.product', { name: productName(hold.productId) }), hold.incidentId === null ? [] : t('holds.part.incident', { id: hold.incidentId }),
    hold.from === null ? [] : t('holds.part.from', { at: format.dateTime(hold.from) }), hold.until === null ? [] : t('holds.part.until', { at: format.dateTime(hold.until) }),
  ].flat().join(', ');
  const edited = view.holds.find(({ id }) => id === editing);
  const open = (which: number | 'new') => { place.reset(); lift.reset(); setEditing(which); };
  return (
    <Stack gap="xs">
      <SetUpTable title={t('holds.title')} text={t('holds.text')} empty={t('holds.empty')} columns={[t('holds.name'), t('holds.what'), t('holds.checks'), t('holds.by'), t('holds.state')]}
        add={{ label: t('holds.place'), onClick: () => open('new') }} editWords={{ word: t('holds.lift'), of: (name) => t('holds.liftOf', { name }) }} edit={mayLift && view.holds.some(({ lifted }) => lifted === null) ? open : undefined}
        rows={view.holds.map((hold) => ({ id: hold.id, name: hold.name, closed: hold.lifted !== null, cells: [hold.name, keeps(hold), String(hold.checks), t('holds.placed', { by: hold.placedBy, at: format.dateTime(hold.placedAt), reason: hold.reason }), hold.lifted ? t('holds.lifted', { by: hold.lifted.by, at: format.dateTime(hold.lifted.at), reason: hold.lifted.reason }) : t('holds.inForce')] }))} />
      {editing === 'new' ? <SetUpForm title={t('holds.place')} fields={fields} act={place} start={{ name: '', customer: '', productId: '', incidentId: null, from: '', until: '', reason: '' }} toBody={toBody} onClose={() => setEditing(undefined)} /> : null}
      {edited ? <SetUpForm key={edited.id} title={t('holds.liftOf', { name: edited.name })} submit={t('holds.lift')} fields={[{ name: 'reason', label: t('holds.liftReason'), kind: 'longText', required: true }]} act={lift} id={edited.id} start={{ reason: '' }} toBody={(values) => values} onClose={() => setEditing(undefined)} /> : null}
    </Stack>
  );
}
