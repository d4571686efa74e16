import { Checkbox, Fieldset, NativeSelect, Stack, Text } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { runLengthRules } from '#contract/workbench/rules';
import { call } from '../../shared/http.js';
import type { Choices } from '../choices.js';
import { useMethod } from '../compute/use-method.js';
import { useSteady } from '../compute/use-steady.js';
import { ComputationView } from '../compute/computation-view.js';
import { usePlainFormat } from '../use-plain-format.js';
import { ALL_RULES, RULE_SETS, ruleSetOf, toggled } from './rule-sets.js';

/** Which rules judge, and what that costs in false alarms. */
export function RuleChoice({ choices, onChange }: { choices: Choices; onChange: (change: Partial<Choices>) => void }) {
  const { t } = useTranslation('workbench');
  const set = ruleSetOf(choices.rules);
  return (
    <Stack gap="xs">
      <NativeSelect label={t('chart.ruleSet')} size="md" value={set} data={(['beyond-limits', 'zones', 'nelson', 'own'] as const).map((value) => ({ value, label: t(`chart.ruleSets.${value}`) }))}
        onChange={({ currentTarget: { value } }) => { if (value === 'beyond-limits' || value === 'zones' || value === 'nelson') onChange({ rules: [...RULE_SETS[value]] }); }} />
      <details open={set === 'own'}>
        <summary>{t('chart.pickRules')}</summary>
        <Fieldset legend={t('chart.rules')} mt="xs">
          <Stack gap={6}>{ALL_RULES.map((rule) => <Checkbox key={rule} label={t(`chart.rule.${rule}`)} checked={choices.rules.includes(rule)} onChange={() => onChange({ rules: toggled(choices.rules, rule) })} />)}</Stack>
          <Checkbox mt="sm" label={t('chart.patternsOnSkewed')} description={t('chart.patternsHint')} checked={choices.patternsOnSkewed} onChange={({ currentTarget: { checked } }) => onChange({ patternsOnSkewed: checked })} />
        </Fieldset>
      </details>
      {choices.rules.length === 0 ? <Text role="status">{t('chart.noRule')}</Text> : <FalseAlarm rules={choices.rules} />}
    </Stack>
  );
}

function FalseAlarm({ rules }: { rules: Choices['rules'] }) {
  const { t } = useTranslation('workbench');
  const format = usePlainFormat();
  const body = useSteady({ rules, shifts: NO_SHIFT });
  const computation = useMethod(runLengthRules.path, body, (given) => call(runLengthRules, given));
  return (
    <ComputationView computation={computation} what={t('chart.falseAlarmWhat')}>
      {({ lengths: [steady] }) => <Text role="status" size="sm">{steady?.arl ? t('chart.falseAlarm', { points: format.number(steady.arl, steady.arl < 100 ? 1 : 0) }) : null}</Text>}
    </ComputationView>
  );
}

const NO_SHIFT = [0];
