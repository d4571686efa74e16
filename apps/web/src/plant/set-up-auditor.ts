import type { UserView } from '#contract/users';
import type { Format } from '../shared/format.js';
import type { Field, Values } from './set-up-form.js';

type Words = { customer: string; customerHint: string; from: string; until: string; expires: string };
const NAMES = ['scopeCustomer', 'scopeFrom', 'scopeUntil', 'scopeExpires'] as const;

/** The fields by which an administrator says what an auditor's account shows. */
export function scopeFields(words: Words, customers: readonly string[]): Field[] {
  return [
    { name: 'scopeCustomer', label: words.customer, hint: words.customerHint, kind: 'select', options: customers.map((customer) => ({ value: customer, label: customer })) },
    { name: 'scopeFrom', label: words.from, kind: 'dateTime' }, { name: 'scopeUntil', label: words.until, kind: 'dateTime' }, { name: 'scopeExpires', label: words.expires, kind: 'dateTime' },
  ];
}

export function scopeStart(scope: UserView['scope'], format: Format): Values {
  return { scopeCustomer: scope?.customer ?? '', scopeFrom: scope ? format.toInput(scope.from) : '', scopeUntil: scope ? format.toInput(scope.until) : '', scopeExpires: scope ? format.toInput(scope.expiresAt) : '' };
}

/** The body of the account; half a scope is sent as it is, so that the server names what is missing. */
export function withScope(values: Values, format: Format): object {
  const { scopeCustomer, scopeFrom, scopeUntil, scopeExpires, ...body } = values;
  if (body.role !== 'auditor' || NAMES.every((name) => !values[name])) return body;
  const moment = (text: unknown) => (typeof text === 'string' && text ? format.fromInput(text) ?? text : '');
  return { ...body, scope: { customer: scopeCustomer ?? '', from: moment(scopeFrom), until: moment(scopeUntil), expiresAt: moment(scopeExpires) } };
}
