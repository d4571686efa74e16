import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { changeProduct, createProduct, type PlantTree } from '#contract/plant';
import { type Field, SetUpForm } from './set-up-form.js';
import { SetUpTable } from './set-up-table.js';
import { useAct } from './set-up.queries.js';

export function ProductsSection({ tree, mayChange }: { tree: PlantTree; mayChange: boolean }) {
  const { t } = useTranslation('plant');
  const [editing, setEditing] = useState<number | 'new'>();
  const [add, edit] = [useAct(createProduct), useAct(changeProduct)];
  const product = tree.products.find((entry) => entry.id === editing);
  const number = (name: string, label: string, hint?: string): Field => ({ name, label, kind: 'number', required: true, ...(hint ? { hint } : {}) });
  const fields: Field[] = [
    ...(product ? [] : [{ name: 'code', label: t('setUp.code'), kind: 'text', required: true } as const]),
    { name: 'name', label: t('setUp.name'), kind: 'text', required: true }, { name: 'customer', label: t('setUp.product.customer'), kind: 'text', required: true },
    number('diameter', t('setUp.product.diameter')), number('height', t('setUp.product.height')), number('bodyPlate', t('setUp.product.bodyPlate')), number('endPlate', t('setUp.product.endPlate')),
    { name: 'seamProfile', label: t('setUp.product.seamProfile'), kind: 'text' }, number('overlapFactor', t('setUp.product.overlapFactor'), t('setUp.product.overlapFactorHint')),
    ...(product ? [{ name: 'retired', label: t('setUp.retired'), hint: t('setUp.retiredHint'), kind: 'switch' } as const] : []),
  ];
  return (
    <>
      <SetUpTable title={t('setUp.sections.products')} empty={t('setUp.product.empty')} columns={[t('setUp.code'), t('setUp.name'), t('setUp.product.customer'), t('setUp.product.diameter'), t('setUp.product.bodyPlate'), t('setUp.product.endPlate'), t('setUp.product.overlapFactor')]}
        add={mayChange ? { label: t('setUp.product.add'), onClick: () => setEditing('new') } : undefined} edit={mayChange ? setEditing : undefined}
        rows={tree.products.map((row) => ({ id: row.id, name: row.code, cells: [row.code, row.retired ? t('setUp.retiredName', { name: row.name }) : row.name, row.customer, row.diameter, row.bodyPlate, row.endPlate, row.overlapFactor] }))} />
      {editing === 'new' ? <SetUpForm title={t('setUp.product.add')} fields={fields} act={add} onClose={() => setEditing(undefined)} start={{ code: '', name: '', customer: '', diameter: null, height: null, bodyPlate: null, endPlate: null, seamProfile: '', overlapFactor: 1 }} toBody={(values) => values} /> : null}
      {product ? <SetUpForm key={product.id} title={t('setUp.product.edit', { code: product.code })} fields={fields} act={edit} id={product.id} onClose={() => setEditing(undefined)} start={product} toBody={({ id: _id, code: _code, ...values }) => values} /> : null}
    </>
  );
}
