import type { TFunction } from 'i18next';
import { firingSide, ruleName } from '#contract/rule-names';

const RULES = ruleName.options;
const SIDES = firingSide.options;
const STEPS = ['logged', 'changed', 'closed', 'reopened', 'photo-added', 'signal-linked', 'signal-unlinked'] as const;
const plain = (code: string) => code.replaceAll('-', ' ');

/** Codes that the server sends, in words; one that this version does not know is shown as it is. */
export function ruleWords(t: TFunction<'incidents'>, rule: string): string {
  const known = RULES.find((name) => name === rule);
  return known ? t(`rule.${known}`) : plain(rule);
}
export function sideWords(t: TFunction<'incidents'>, side: string): string {
  const known = SIDES.find((name) => name === side);
  return known ? t(`side.${known}`) : plain(side);
}
export function stepTaken(t: TFunction<'incidents'>, action: string): string {
  const known = STEPS.find((name) => name === action);
  return known ? t(`step.${known}`) : plain(action);
}
const LIFE_STEPS = ['contained', 'cause-found', 'action-taken', 'effect-verified', 'stepped-back', 'due-changed', 'whys-written', 'verification-kept', 'event-linked', 'event-unlinked', 'photo-removed', 'reply-saved', 'reply-counts'] as const;
/** The steps of an incident's life; null for any other act. */
export function lifeStepTaken(t: TFunction<'incidentLife'>, action: string): string | null {
  const known = LIFE_STEPS.find((name) => name === action);
  return known ? t(`history.${known}`) : null;
}
export const eventWords = plain;

/** " H2 A" where unit or lane are kept apart. */
export const partWords = ({ machineUnit, lane }: { machineUnit: string | null; lane: string | null }): string => [machineUnit, lane].flatMap((part) => (part === null ? [] : [` ${part}`])).join('');
