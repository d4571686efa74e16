import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { roles } from '#contract/roles';
import { changeUser, createUser, type UserView } from '#contract/users';
import { useFormat } from '../shared/format.js';
import { QueryView } from '../shared/states.js';
import { scopeFields, scopeStart, withScope } from './set-up-auditor.js';
import { SessionRule } from './set-up-session-rule.js';
import { type Field, SetUpForm } from './set-up-form.js';
import { SetUpTable } from './set-up-table.js';
import { useAct, useUsers } from './set-up.queries.js';

export function PeopleSection({ customers }: { customers: readonly string[] }) {
  const { t } = useTranslation('plant');
  const { t: common } = useTranslation('common');
  const { t: sessions } = useTranslation('sessions');
  const format = useFormat();
  const auditor = { customer: sessions('auditor.customer'), customerHint: sessions('auditor.needs'), from: sessions('auditor.from'), until: sessions('auditor.until'), expires: sessions('auditor.expires') };
  const roleOf = ({ role, scope }: UserView) => {
    if (role !== 'auditor') return common(`roles.${role}`);
    return scope ? sessions('auditor.cell', { role: common('roles.auditor'), customer: scope.customer, from: format.date(scope.from), until: format.date(scope.until), expires: format.dateTime(scope.expiresAt) }) : sessions('auditor.cellNone', { role: common('roles.auditor') });
  };
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
            rows={list.map((row) => ({ id: row.id, name: row.name, cells: [row.login, row.name, roleOf(row), row.disabled ? t('setUp.person.disabled') : row.demoPassword ? t('setUp.person.demo') : t('setUp.person.active')] }))} />
          {editing === 'new' ? <SetUpForm title={t('setUp.person.add')} fields={[{ name: 'login', label: t('setUp.person.login'), kind: 'text', required: true }, ...fields, { name: 'password', label: t('setUp.person.password'), hint: t('setUp.person.passwordHint'), kind: 'password', required: true }, ...scopeFields(auditor, customers)]} act={add} onClose={() => setEditing(undefined)} start={{ login: '', name: '', role: 'technician', password: '', ...scopeStart(null, format) }} toBody={(values) => withScope(values, format)} /> : null}
          {user ? <SetUpForm key={user.id} title={t('setUp.person.edit', { login: user.login })} fields={[...fields, { name: 'password', label: t('setUp.person.newPassword'), hint: t('setUp.person.passwordHint'), kind: 'password' }, { name: 'disabled', label: t('setUp.person.disable'), hint: t('setUp.person.disableHint'), kind: 'switch' }, ...scopeFields(auditor, customers)]} act={edit} id={user.id} onClose={() => setEditing(undefined)}
            start={{ name: user.name, role: user.role, disabled: user.disabled, password: '', ...scopeStart(user.scope, format) }} toBody={({ password, ...values }) => ({ ...withScope(values, format), ...(password ? { password } : {}) })} /> : null}
          <SessionRule />
        </>
      );
    }}</QueryView>
  );
}
