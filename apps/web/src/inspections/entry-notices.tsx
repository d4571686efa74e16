import { Alert, Anchor, Button, Group, List, Stack, Text } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { OfflineError, ProblemError } from '../shared/http.js';
import { ProblemList } from '../shared/problem-list.js';
import { useNameOf } from './cell-name.js';
import type { CellQuestion } from './entry-check.js';
import type { DraftProblem, EntryDraft, Sheet } from './entry-draft.js';
import { cellId } from './entry-grid.js';

const goTo = (code: string, place: number) => document.getElementById(cellId(code, place))?.focus();

/** What keeps the entry from being sent, each with the way to it. */
export function DraftProblems({ sheet, draft, problems }: { sheet: Sheet; draft: EntryDraft; problems: readonly DraftProblem[] }) {
  const { t } = useTranslation(['inspections', 'entry']);
  const nameOf = useNameOf(sheet);
  return (
    <Alert color="gray" title={t('problem.title')} role="alert">
      <List>
        {problems.slice(0, 12).map((problem) => {
          if (!('code' in problem)) return <List.Item key={problem.what}>{t(`problem.${problem.what}`)}</List.Item>;
          if (problem.what === 'count') return <List.Item key={problem.code}>{t('entry:problem.count', { name: sheet.counted.find(({ code }) => code === problem.code)?.name ?? problem.code })}</List.Item>;
          const cell = nameOf(problem.code, problem.place);
          const text = draft.cells[problem.code]?.[problem.place] ?? '';
          const said = problem.what === 'unreadable' ? t('problem.unreadable', { cell, text }) : t(`entry:problem.${problem.what}`, { cell, text });
          return <List.Item key={`${problem.code}/${problem.place}`}><Anchor component="button" type="button" ta="left" onClick={() => goTo(problem.code, problem.place)}>{said}</Anchor></List.Item>;
        })}
      </List>
    </Alert>
  );
}

/** The question about readings that the can or the gauge does not allow, with the two answers. */
export function Questions({ sheet, questions, busy, onConfirm }: { sheet: Sheet; questions: readonly CellQuestion[]; busy: boolean; onConfirm: () => void }) {
  const { t } = useTranslation(['inspections', 'entry']);
  const nameOf = useNameOf(sheet);
  const first = questions[0];
  const rangeWords = ({ low, high }: { low: number | null; high: number | null }) => (low === null ? t('entry:range.most', { high: high ?? '' }) : high === null ? t('entry:range.least', { low }) : t('entry:range.between', { low, high }));
  return (
    <Alert color="gray" title={t('question.title')} role="alert">
      <Stack gap="sm" align="flex-start">
        <Text>{t('question.text')}</Text>
        <List>{questions.map(({ code, place, expected }) => <List.Item key={cellId(code, place)}><Anchor component="button" type="button" ta="left" onClick={() => goTo(code, place)}>{t('question.cell', { cell: nameOf(code, place), expected: typeof expected === 'string' ? expected : rangeWords(expected) })}</Anchor></List.Item>)}</List>
        <Group>
          <Button onClick={() => { if (first) goTo(first.code, first.place); }}>{t('question.correct')}</Button>
          <Button variant="default" loading={busy} onClick={onConfirm}>{t('question.asMeasured')}</Button>
        </Group>
      </Stack>
    </Alert>
  );
}

/** Not saved: why, that nothing is lost, and the way on. */
export function Refused({ error, busy, onRetry, onNext }: { error: unknown; busy: boolean; onRetry: () => void; onNext: () => void }) {
  const { t } = useTranslation('inspections');
  // An answer was lost, the entry was changed, and sent again under its key: the first state is stored.
  if (error instanceof ProblemError && error.problem.code === 'key-reused') {
    return (
      <Alert color="gray" title={t('refused.storedBefore')} role="alert">
        <Stack gap="sm" align="flex-start">
          <Text>{t('refused.storedBeforeText')}</Text>
          <ProblemList error={error} />
          <Button variant="default" onClick={onNext}>{t('log.next')}</Button>
        </Stack>
      </Alert>
    );
  }
  const offline = error instanceof OfflineError;
  return (
    <Alert color="gray" title={offline ? t('refused.offline') : t('refused.title')} role="alert">
      <Stack gap="sm" align="flex-start">
        {offline ? <Text>{t('refused.offlineText')}</Text> : <><ProblemList error={error} /><Text>{t('refused.kept')}</Text></>}
        <Button variant="default" loading={busy} onClick={onRetry}>{t('refused.retry')}</Button>
      </Stack>
    </Alert>
  );
}
