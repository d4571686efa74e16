import { Button, Group, Radio, Stack, Text, TextInput } from '@mantine/core';
import { useDebouncedValue } from '@mantine/hooks';
import { useEffect, useRef } from 'react';
import { useTranslation } from 'react-i18next';
import type { CodeMeaning, CodeRefusal } from '#contract/can-codes';
import { useFormat } from '../shared/format.js';
import { ProblemList } from '../shared/problem-list.js';
import { meaningKey } from './code-reading.js';
import { useDecodeCanCode } from './incidents.queries.js';

const SHOWN = 12;

/** The code as it is typed and, beside it, what it says. One meaning is taken over, several ask, none says why. */
export function CanCodeField({ code, receivedAt, taken, ownTime, onCode, onMeaning, onMarks }: { code: string; receivedAt: string | null; taken: string; ownTime: boolean; onCode: (code: string) => void; onMeaning: (meaning: CodeMeaning) => void; onMarks: (meanings: readonly CodeMeaning[], code: string) => void }) {
  const { t } = useTranslation('incidents');
  const format = useFormat();
  const [asked] = useDebouncedValue(code.trim(), 350);
  const reading = useDecodeCanCode(asked, receivedAt);
  const data = asked === code.trim() ? reading.data : undefined;
  const only = data?.meanings.length === 1 ? data.meanings[0] : undefined;
  const takenFor = useRef('');
  useEffect(() => {
    // Once for each code, and never over a time that the person has put in: theirs overrules.
    if (!only || ownTime || takenFor.current === `${asked}/${meaningKey(only)}`) return;
    takenFor.current = `${asked}/${meaningKey(only)}`;
    onMeaning(only);
  });
  const marksFor = useRef('');
  useEffect(() => {
    if (!ownTime || !data || data.meanings.length === 0 || marksFor.current === asked) return;
    marksFor.current = asked;
    onMarks(data.meanings, asked);
  });
  const where = (meaning: CodeMeaning) => [meaning.line, meaning.machine, meaning.unit, meaning.lane].filter(Boolean).join(' ');
  const span = (meaning: CodeMeaning) => t('code.meaning', { where: where(meaning), from: format.dateTime(meaning.from), until: format.dateTime(meaning.until), minutes: format.number((Date.parse(meaning.until) - Date.parse(meaning.from)) / 60_000, 0) });
  const why = (refusal: CodeRefusal) => (refusal.kind === 'does-not-fit' ? t('code.doesNotFit', { line: refusal.line, position: refusal.position, expected: refusal.expected }) : t(`code.${refusal.kind}`, { line: refusal.line, named: refusal.kind === 'not-in-force' ? format.dateTime(refusal.named) : refusal.named }));
  const cautions = [...new Set(data?.meanings.flatMap((meaning) => meaning.cautions) ?? [])];
  // Fits of a shape say more than misfits: they come first.
  const refusals = [...(data?.refusals ?? [])].sort((a, b) => Number(a.kind === 'does-not-fit') - Number(b.kind === 'does-not-fit'));
  const telling = refusals.filter(({ kind }) => kind !== 'does-not-fit');
  return (
    <Stack gap={4}>
      <TextInput size="md" label={t('form.canCode')} description={t('form.canCodeHint')} maxLength={60} value={code} onChange={({ currentTarget: { value } }) => onCode(value)} aria-describedby="can-code-reading" />
      <div id="can-code-reading" aria-live="polite">
        {code.trim() !== '' && receivedAt === null ? <Text size="sm">{t('code.needsReceipt')}</Text> : null}
        <ProblemList error={asked === '' ? null : reading.error} />
        {data && data.meanings.length > 1 ? (
          <Radio.Group label={t('code.several')} value={taken} onChange={(key) => { const chosen = data.meanings.find((meaning) => meaningKey(meaning) === key); if (chosen) onMeaning(chosen); }}>
            <Stack gap={4} pt={4}>{data.meanings.slice(0, SHOWN).map((meaning) => <Radio key={meaningKey(meaning)} value={meaningKey(meaning)} label={span(meaning)} />)}</Stack>
          </Radio.Group>
        ) : null}
        {only ? <Group gap="sm"><Text size="sm" fw={600}>{span(only)}</Text>{taken === meaningKey(only) ? null : <><Text size="sm">{t('code.overruled')}</Text><Button size="compact-sm" variant="default" onClick={() => onMeaning(only)}>{t('code.takeAgain')}</Button></>}</Group> : null}
        {cautions.map((caution) => <Text key={caution} size="sm">{t(`code.${caution}`)}</Text>)}
        {data && data.tried === 0 ? <Text size="sm">{t('code.noPattern')}</Text> : null}
        {data && data.tried > 0 && data.meanings.length === 0 ? <Stack gap={2}><Text size="sm" fw={600}>{telling.length > 0 ? t('code.impossible') : t('code.unknown')}</Text>{(telling.length > 0 ? telling : refusals).slice(0, 4).map((refusal) => <Text key={`${refusal.patternId}/${refusal.kind}`} size="sm">{why(refusal)}</Text>)}</Stack> : null}
      </div>
    </Stack>
  );
}
