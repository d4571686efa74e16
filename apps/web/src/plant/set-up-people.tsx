import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { roles } from '#contract/roles';
import { changeUser, createUser } from '#contract/users';
import { QueryView } from '../shared/states.js';
import { type Field, SetUpForm } from './set-up-form.js';
import { SetUpTable } from './set-up-table.js';
import { useAct, useUsers } from './set-up.queries.js';

export function PeopleSection() {
  const { t } = useTranslation('plant');
  const { t: common } = useTranslation('common');
  const [editing, setEditing] = useState<number | 'new'>();
  const users = useUsers();
  const [add, edit] = [useAct(createUser), useAct(changeUser)];
  const fields: Field[] = [{ name: 'name', label: t('setUp.name'), kind: 'text', required: true }, { name: 'role', label: t('setUp.person.role'), hint: t('setUp.person.roleHint'), kind: 'select', required: true, options: roles.map((role) => ({ value: role, label: common(`roles.${role}`) })) }];
  return (
    <QueryView query={users} what={t('setUp.sections.people')}>{(list) => {
      const user = list.find((entry) => entry.id === editing);
      return (
        <>
          <SetUpTable title={t('setUp.sections.people')} empty={t('setUp.person.empty')} columns={[t('setUp.person.login'), t('setUp.name'), t('setUp.person.role'), t('setUp.person.state')]} add={{ label: t('setUp.person.add'), onClick: () => setEditing('new') }} edit={setEditing}
            rows={list.map((row) => ({ id: row.id, name: row.name, cells: [row.login, row.name, common(`roles.${row.role}`), row.disabled ? t('setUp.person.disabled') : row.demoPassword ? t('setUp.person.demo') : t('setUp.person.active')] }))} />
          {editing === 'new' ? <SetUpForm title={t('setUp.person.add')} fields={[{ name: 'login', label: t('setUp.person.login'), kind: 'text', required: true }, ...fields, { name: 'password', label: t('setUp.person.password'), hint: t('setUp.person.passwordHint'), kind: 'password', required: true }]} act={add} onClose={() => setEditing(undefined)} start={{ login: '', name: '', role: 'technician', password: '' }} toBody={(values) => values} /> : null}
          {user ? <SetUpForm key={user.id} title={t('setUp.person.edit', { login: user.login })} fields={[...fields, { name: 'password', label: t('setUp.person.newPassword'), hint: t('setUp.person.passwordHint'), kind: 'password' }, { name: 'disabled', label: t('setUp.person.disable'), hint: t('setUp.person.disableHint'), kind: 'switch' }]} act={edit} id={user.id} onClose={() => setEditing(undefined)}
            start={{ name: user.name, role: user.role, disabled: user.disabled, password: '' }} toBody={({ password, ...values }) => ({ ...values, ...(password ? { password } : {}) })} /> : null}
        </>
      );
    }}</QueryView>
  );
}
