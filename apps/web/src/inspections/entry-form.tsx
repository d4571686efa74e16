import { Alert, Button, Group, Stack, Text } from '@mantine/core';
import { type ReactNode, useCallback, useEffect, useMemo, useRef, useState } from 'react';
import { useTranslation } from 'react-i18next';
import type { CheckVerdict } from '#contract/inspections';
import { ProblemError } from '../shared/http.js';
import { usePerson } from '../shared/session.js';
import { keepDraft, keepGauges, loadDraft, loadGauges } from './draft-store.js';
import { EntryDetails } from './entry-details.js';
import { type CellQuestion, cellQuestions, draftProblems, type EntryDraft, filled, isUntouched, newDraft, type Sheet, toNewCheck, withCell } from './entry-draft.js';
import { cellId, EntryGrid } from './entry-grid.js';
import { DraftProblems, Questions, Refused } from './entry-notices.js';
import { EntryPreview } from './entry-preview.js';
import { useRecordCheck } from './inspections.queries.js';
import { newKey } from './new-key.js';
import { VerdictPanel } from './verdict-panel.js';

/** One check being entered: kept in the browser until the server has it, sent under one key however often it is sent. */
export function EntryForm({ sheet, chart }: { sheet: Sheet; chart: (streamId: number, label: string) => ReactNode }) {
  const { t } = useTranslation('inspections');
  const person = usePerson();
  const fresh = useCallback(() => newDraft(sheet, { key: newKey(), takenAt: new Date().toISOString(), inspector: person.name, gauges: loadGauges(sheet) }), [sheet, person.name]);
  const kept = useMemo(() => loadDraft(person.id, sheet), [person.id, sheet]);
  const [draft, setDraft] = useState<EntryDraft>(() => kept ?? fresh());
  const [restored, setRestored] = useState(kept !== null);
  const [tried, setTried] = useState(false);
  const [questions, setQuestions] = useState<CellQuestion[]>([]);
  const [refused, setRefused] = useState<unknown>(null);
  const [confirmed, setConfirmed] = useState(false);
  const [verdict, setVerdict] = useState<CheckVerdict | null>(null);
  const record = useRecordCheck();
  const saveButton = useRef<HTMLButtonElement>(null);

  useEffect(() => { if (verdict === null) keepDraft(person.id, sheet, isUntouched(draft) ? null : draft); }, [person.id, sheet, draft, verdict]);
  const problems = draftProblems(sheet, draft);
  const onCell = useCallback((code: string, place: number, text: string) => {
    setDraft((before) => withCell(before, code, place, text));
    setConfirmed(false);
    setQuestions((before) => before.filter((question) => question.code !== code || question.place !== place));
  }, []);
  const onEnd = useCallback(() => saveButton.current?.focus(), []);
  const asked = useMemo(() => new Set(questions.map(({ code, place }) => cellId(code, place))), [questions]);

  const begin = () => { setDraft(fresh()); setVerdict(null); setQuestions([]); setTried(false); setRestored(false); setRefused(null); record.reset(); };
  const send = (asMeasured: boolean) => {
    setTried(true);
    setRefused(null);
    if (problems.length > 0) return;
    // Kept for a retry: a person who answered the question once is not asked again because the network was away.
    setConfirmed(asMeasured);
    const check = toNewCheck(sheet, draft, asMeasured);
    record.mutate(check, {
      onSuccess: (answer) => { keepDraft(person.id, sheet, null); keepGauges(sheet, draft.gauges); setQuestions([]); setVerdict(answer); },
      onError: (error) => {
        const about = error instanceof ProblemError && error.problem.code === 'implausible-reading' ? cellQuestions(check, error.problem.errors ?? []) : [];
        setQuestions(about);
        setRefused(about.length === 0 ? error : null);
      },
    });
  };
  if (verdict !== null) return <VerdictPanel verdict={verdict} chart={chart} onNext={begin} />;
  const { done, of } = filled(sheet, draft);
  return (
    <form noValidate onSubmit={(event) => { event.preventDefault(); if (!record.isPending) send(false); }}>
      <Stack gap="md">
        {restored ? <Alert color="gray"><Group><Text>{t('log.restored')}</Text><Button variant="default" onClick={begin}>{t('log.startAgain')}</Button></Group></Alert> : null}
        <EntryDetails sheet={sheet} draft={draft} onChange={(change) => setDraft((before) => ({ ...before, ...change }))} />
        <Text size="sm" c="dimmed">{t('log.keys')}</Text>
        <EntryGrid sheet={sheet} draft={draft} asked={asked} onCell={onCell} onEnd={onEnd} />
        {tried && problems.length > 0 ? <DraftProblems sheet={sheet} draft={draft} problems={problems} /> : null}
        {questions.length > 0 ? <Questions sheet={sheet} questions={questions} busy={record.isPending} onConfirm={() => send(true)} /> : null}
        {refused === null ? null : <Refused error={refused} busy={record.isPending} onRetry={() => send(confirmed)} onNext={begin} />}
        <Group gap="lg">
          <Button type="submit" size="lg" ref={saveButton} loading={record.isPending}>{record.isPending ? t('log.saving') : t('log.save')}</Button>
          <Text role="status">{t('log.filled', { done, of })}</Text>
        </Group>
        <EntryPreview sheet={sheet} draft={draft} />
      </Stack>
    </form>
  );
}
