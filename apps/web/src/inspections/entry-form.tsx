import { Alert, Button, Checkbox, Group, Stack, Text } from '@mantine/core';
import { type ReactNode, useCallback, useEffect, useMemo, useRef, useState } from 'react';
import { useTranslation } from 'react-i18next';
import type { CheckVerdict } from '#contract/inspections';
import { isReached } from '../shared/network.js';
import { usePerson } from '../shared/session.js';
import { useNameOf } from './cell-name.js';
import { keepDraft, keepGauges, loadDraft, loadGauges } from './draft-store.js';
import { EntryBar } from './entry-bar.js';
import { type CellQuestion, implausibleCells, toNewCheck } from './entry-check.js';
import { EntryCounts } from './entry-counts.js';
import { EntryDetails } from './entry-details.js';
import { cellKey, draftProblems, filled, isUntouched, newDraft, type Sheet } from './entry-draft.js';
import { byTouch } from './by-touch.js';
import { cellId, EntryGrid, placeOf } from './entry-grid.js';
import { EntryLimits } from './entry-limits.js';
import { DraftProblems, Questions, Refused } from './entry-notices.js';
import { EntryPhotos } from './entry-photos.js';
import { EntryPreview } from './entry-preview.js';
import { keepSettings, loadSettings } from './entry-settings.js';
import type { GridCell } from './grid-moves.js';
import { KeptPanel } from './kept-panel.js';
import { LeaveOutDialog } from './leave-out-dialog.js';
import { newKey } from './new-key.js';
import { dropPhotosOf } from './photo-store.js';
import { useQueue } from './queue.queries.js';
import { findQueued, removeQueued } from './queue-store.js';
import { SecondDialog } from './second-dialog.js';
import { unitsAsked, unitsLeft, withUnits } from './sheet-units.js';
import { SerialGauge } from './serial-gauge.js';
import { UnitTurn } from './unit-turn.js';
import { useEntry } from './use-entry.js';
import { useGaugeEntry } from './use-gauge-entry.js';
import { useSendCheck } from './use-send-check.js';
import { hasSerial } from './use-serial-gauge.js';
import { VerdictPanel } from './verdict-panel.js';

/** One check being entered: kept in the browser until the server has it, sent under one key however often it is sent. */
export function EntryForm({ sheet: given, turn, chart }: { sheet: Sheet; /** The units to ask for; empty = all. */ turn: number[]; chart: (streamId: number, label: string) => ReactNode }) {
  const { t } = useTranslation(['inspections', 'entry']);
  const person = usePerson();
  // The sheet as it was when the entry began: what the plant changes meanwhile is found when the check is sent.
  const [kept] = useState(() => loadDraft(person.id, given));
  const [sheet, setSheet] = useState(() => withUnits(given, kept?.units ?? turn));
  const nameOf = useNameOf(sheet);
  const fresh = (on: Sheet) => newDraft(on, { key: newKey(), takenAt: new Date().toISOString(), inspector: person.name, gauges: loadGauges(on), offline: !isReached(), units: unitsLeft(on).length === 0 ? [] : unitsAsked(on).map(({ id }) => id) });
  const { draft, mayUndo, mayRedo, act } = useEntry(sheet, () => kept ?? fresh(sheet));
  const [settings, setSettings] = useState(loadSettings);
  const [restored, setRestored] = useState(kept !== null);
  const [active, setActive] = useState<GridCell | null>(null);
  const [dialog, setDialog] = useState<'leave-out' | 'second' | null>(null);
  const [tried, setTried] = useState(false);
  const [questions, setQuestions] = useState<CellQuestion[]>([]);
  const [refused, setRefused] = useState<unknown>(null);
  const [confirmed, setConfirmed] = useState(false);
  const [verdict, setVerdict] = useState<CheckVerdict | null>(null);
  const [away, setAway] = useState<string | null>(null);
  const sending = useSendCheck();
  const gauge = useGaugeEntry({ sheet, entryKey: draft.key, active, paused: dialog !== null, settings });
  const queued = useQueue(person.id).data?.find(({ key }) => key === away);
  const saveButton = useRef<HTMLButtonElement>(null);

  useEffect(() => { keepSettings(settings); }, [settings]);
  useEffect(() => { if (verdict === null && away === null) keepDraft(person.id, sheet, isUntouched(draft) ? null : draft); }, [person.id, sheet, draft, verdict, away]);
  useEffect(() => { if (kept) void settleKept(kept.key).then((left) => { if (left === 'queue') { keepDraft(person.id, sheet, null); setAway(kept.key); } }); }, [kept, person.id, sheet]);
  const problems = draftProblems(sheet, draft);
  const unask = useCallback((code: string, place: number) => {
    setConfirmed(false);
    setQuestions((before) => before.filter((question) => question.code !== code || question.place !== place));
  }, []);
  const onCell = useCallback((code: string, place: number, text: string) => { act({ do: 'type', code, place, text }); unask(code, place); }, [act, unask]);
  const onLeave = useCallback((code: string, place: number) => act({ do: 'leave', code, place }), [act]);
  const onTurn = useCallback((way: 'undo' | 'redo') => { act({ do: way }); setConfirmed(false); setQuestions([]); }, [act]);
  const onEnd = useCallback(() => saveButton.current?.focus(), []);
  const asked = useMemo(() => new Set(questions.map(({ code, place }) => cellId(code, place))), [questions]);

  const onPhotos = useCallback((photos: number) => act({ do: 'change', change: { photos } }), [act]);
  const startAgain = () => { void dropPhotosOf(draft.key); begin(); };
  const begin = () => { const on = withUnits(given, turn); setSheet(on); act({ do: 'begin', draft: fresh(on) }); setAway(null); setVerdict(null); setQuestions([]); setTried(false); setRestored(false); setRefused(null); setActive(null); };
  const open = (more: number[]) => { const units = [...unitsAsked(sheet).map(({ id }) => id), ...more]; const wider = withUnits(sheet, units); setSheet(wider); act({ do: 'widen', sheet: wider, units }); };
  const send = async (asMeasured: boolean) => {
    setTried(true);
    setRefused(null);
    if (problems.length > 0) return;
    const doubtful = asMeasured ? [] : implausibleCells(sheet, draft);
    setQuestions(doubtful);
    if (doubtful.length > 0) return;
    // Kept for a retry: a person who answered the question once is not asked again because the network was away.
    setConfirmed(asMeasured);
    const sent = await sending.send(sheet, draft, toNewCheck(sheet, { ...draft, offline: draft.offline || !isReached() }, asMeasured, new Date().toISOString()));
    if (sent.is === 'asked') setQuestions(sent.questions);
    else if (sent.is === 'refused') setRefused(sent.error);
    else {
      keepDraft(person.id, sheet, null);
      keepGauges(sheet, draft.gauges);
      if (sent.is === 'stored') setVerdict(sent.verdict);
      else setAway(sent.key);
    }
  };
  const judged = verdict ?? queued?.verdict ?? null;
  if (judged !== null) return <VerdictPanel verdict={judged} chart={chart} onNext={begin} />;
  if (away !== null) return <KeptPanel returned={queued?.state === 'needs-you'} onNext={begin} />;
  const { done, of, skipped } = filled(sheet, draft);
  const pad = settings.pad ?? byTouch();
  const at = active ? placeOf(sheet, active) : null;
  const can = active ? sheet.cans[active.row] : undefined;
  const cellWords = at ? nameOf(at.entry.code, at.place) : '';
  const close = () => { setDialog(null); if (at) document.getElementById(cellId(at.entry.code, at.place))?.focus(); };
  const leaveOut = (what: 'cell' | 'can', reason: string) => {
    if (!active || !at) return;
    const first = active.row * sheet.positions.length;
    const cells = what === 'cell' ? [{ code: at.entry.code, place: at.place }] : sheet.measured.flatMap(({ code }) => sheet.positions.map((_, offset) => ({ code, place: first + offset })));
    act({ do: 'leave-out', cells, reason });
    for (const { code, place } of cells) unask(code, place);
    close();
  };
  return (
    <form noValidate onSubmit={(event) => { event.preventDefault(); if (!sending.busy) void send(false); }}>
      <Stack gap="md">
        {restored ? <Alert color="gray"><Group><Text>{t('log.restored')}</Text><Button variant="default" onClick={startAgain}>{t('log.startAgain')}</Button></Group></Alert> : null}
        <EntryDetails sheet={sheet} draft={draft} onChange={(change) => act({ do: 'change', change })} />
        <UnitTurn sheet={sheet} onOpen={open} />
        <Text size="sm" c="dimmed">{t('entry:keys')}{pad ? null : ` ${t('entry:keysMore')}`}</Text>
        <EntryGrid sheet={sheet} draft={draft} asked={asked} active={active} advance={settings.advance} screenPad={pad} onCell={onCell} onLeave={onLeave} onActive={setActive} onTurn={onTurn} onEnd={onEnd} />
        <EntryBar draft={draft} at={at} cell={cellWords} said={gauge.said} pad={pad} mayUndo={mayUndo} mayRedo={mayRedo} onTurn={onTurn} onLeaveOut={() => setDialog('leave-out')} onSecond={() => setDialog('second')} onPad={() => setSettings((before) => ({ ...before, pad: !pad }))} />
        <EntryCounts sheet={sheet} draft={draft} onCount={(code, count) => act({ do: 'count', code, count })} />
        <EntryPhotos sheet={sheet} checkKey={draft.key} row={active?.row ?? null} sending={sending.busy} onCount={onPhotos} />
        {tried && problems.length > 0 ? <DraftProblems sheet={sheet} draft={draft} problems={problems} /> : null}
        {questions.length > 0 ? <Questions sheet={sheet} questions={questions} busy={sending.busy} onConfirm={() => void send(true)} /> : null}
        {refused === null ? null : <Refused error={refused} busy={sending.busy} onRetry={() => void send(confirmed)} onNext={begin} />}
        <Group gap="lg">
          <Button type="submit" size="lg" ref={saveButton} loading={sending.busy}>{sending.busy ? t('log.saving') : t('log.save')}</Button>
          <Text role="status">{skipped === 0 ? t('entry:filled', { done, of }) : t('entry:filledSkipped', { done, of, skipped })}</Text>
          <Checkbox size="md" label={t('entry:advance')} checked={settings.advance} onChange={(event) => { const advance = event.currentTarget.checked; setSettings((before) => ({ ...before, advance })); }} />
        </Group>
        {hasSerial() ? <SerialGauge gauge={gauge} settings={settings} onSettings={(change) => setSettings((before) => ({ ...before, ...change }))} /> : null}
        <EntryLimits key={draft.key} sheet={sheet} draft={draft} />
        <EntryPreview sheet={sheet} draft={draft} />
      </Stack>
      {dialog === 'leave-out' && can ? <LeaveOutDialog cell={cellWords} can={t('grid.row', { number: can.number })} onClose={close} onLeaveOut={leaveOut} /> : null}
      {dialog === 'second' && at ? (
        <SecondDialog entry={at.entry} cell={cellWords} first={draft.cells[at.entry.code]?.[at.place] ?? ''} second={draft.second[cellKey(at.entry.code, at.place)] ?? ''} onClose={close}
          onKeep={(text) => { act({ do: 'second', code: at.entry.code, place: at.place, text }); close(); }} />
      ) : null}
    </form>
  );
}

/** A window that was closed between queueing and sending leaves the entry in both places. One that came back is the form's; else it is on its way. */
async function settleKept(key: string): Promise<'form' | 'queue'> {
  const item = await findQueued(key).catch(() => null);
  if (item?.state === 'needs-you') await removeQueued(item.place);
  return item === null || item.state === 'needs-you' ? 'form' : 'queue';
}
