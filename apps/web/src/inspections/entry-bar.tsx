import { Button, Group, Text, UnstyledButton } from '@mantine/core';
import type { ReactNode } from 'react';
import { useTranslation } from 'react-i18next';
import { choicesOf, meantText } from './cell-typing.js';
import { cellKey, type EntryDraft, type Measured } from './entry-draft.js';
import { cellId } from './entry-grid.js';
import { NumberPad, typeWhole } from './number-pad.js';

/** What stays in view while a grid is filled: the cell, what its digits count as, the steps back, and large keys where they are wanted. */
export function EntryBar({ draft, at, cell, said, pad, mayUndo, mayRedo, onTurn, onLeaveOut, onSecond, onPad, children }: {
  draft: EntryDraft; at: { entry: Measured; place: number } | null; cell: string; /** Of a gauge; empty where none speaks. */ said: string; pad: boolean; mayUndo: boolean; mayRedo: boolean;
  onTurn: (way: 'undo' | 'redo') => void; onLeaveOut: () => void; onSecond: () => void; onPad: () => void; children?: ReactNode;
}) {
  const { t } = useTranslation('entry');
  const choices = at ? choicesOf(at.entry) : null;
  const text = at ? draft.cells[at.entry.code]?.[at.place] ?? '' : '';
  const meant = at ? meantText(text, at.entry) : '';
  const choose = (value: number) => {
    const input = at ? document.getElementById(cellId(at.entry.code, at.place)) : null;
    if (input instanceof HTMLInputElement) typeWhole(input, String(value));
  };
  return (
    <section className={pad || choices ? 'entry-bar with-pad' : 'entry-bar'} aria-label={t('bar.title')}>
      <div className="entry-bar-words">
        <Group gap={pad ? 0 : 'md'} align="baseline">
          <Text className="entry-bar-value" role="status" aria-live="polite">{at && text !== '' ? t(text === meant ? 'bar.value' : 'bar.counts', { text, value: meant, unit: at.entry.unit }) : ' '}</Text>
          <Text size="sm" c="dimmed">{at ? cell : t('bar.none')}</Text>
        </Group>
        <Text size="sm" role="status">{said}</Text>
        <Group gap="xs">
          <Button size="md" px={pad ? 'xs' : 'sm'} variant="default" disabled={!mayUndo} onClick={() => onTurn('undo')}>{t('bar.undo')}</Button>
          <Button size="md" px={pad ? 'xs' : 'sm'} variant="default" disabled={!mayRedo} onClick={() => onTurn('redo')}>{t('bar.redo')}</Button>
          <Button size="md" px={pad ? 'xs' : 'sm'} variant="default" disabled={!at} onClick={onLeaveOut}>{t('bar.leaveOut')}</Button>
          <Button size="md" px={pad ? 'xs' : 'sm'} variant="default" disabled={!at || text === ''} onClick={onSecond}>{at && draft.second[cellKey(at.entry.code, at.place)] !== undefined ? t('bar.changeSecond') : t('bar.second')}</Button>
          <Button size="md" px={pad ? 'xs' : 'sm'} variant="default" onClick={onPad}>{pad ? t('bar.hidePad') : t('bar.showPad')}</Button>
          {children}
        </Group>
      </div>
      {choices && at ? (
        <fieldset className="pad choices" aria-label={t('bar.rate', { name: at.entry.name, unit: at.entry.unit })}>
          {choices.map((value) => <UnstyledButton key={value} className="pad-key" aria-pressed={Number(meant) === value && meant !== ''} aria-label={t('bar.rating', { value, unit: at.entry.unit })} onPointerDown={(event) => event.preventDefault()} onClick={() => choose(value)}>{value}</UnstyledButton>)}
        </fieldset>
      ) : pad ? <NumberPad /> : null}
    </section>
  );
}
