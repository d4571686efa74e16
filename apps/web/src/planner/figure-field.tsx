import { TextInput } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { type Bounded, BOUNDS, readFigure } from './planner.url.js';

/** A number that counts once the field is left or Enter is pressed; what is no such number stays in the field with what is expected. */
export function FigureField({ label, name, value, shown, description, isLabelHidden, onCommit, onEmpty }: {
  label: string; name: Bounded; value: number | null; /** The value as it is written when nobody types. */ shown?: string; description?: string; isLabelHidden?: boolean; onCommit: (value: number) => void; onEmpty?: () => void;
}) {
  const { t } = useTranslation('planner');
  const written = shown ?? (value === null ? '' : String(value));
  const [typed, setTyped] = useState<string | null>(null);
  const text = typed ?? written;
  const isBad = typed !== null && typed.trim() !== '' && readFigure(typed, name) === null;
  const [least, most] = BOUNDS[name];
  const commit = () => {
    if (typed === null) return;
    if (typed.trim() === '') { setTyped(null); onEmpty?.(); return; }
    const figure = readFigure(typed, name);
    if (figure === null) return;
    setTyped(null);
    if (typed !== written) onCommit(figure);
  };
  return (
    <TextInput size="sm" inputMode="decimal" {...(isLabelHidden ? { 'aria-label': label } : { label })} description={description} value={text} error={isBad ? t('fields.expected', { least, most }) : undefined}
      onChange={({ currentTarget }) => setTyped(currentTarget.value)} onBlur={commit} onKeyDown={({ key }) => { if (key === 'Enter') commit(); }} />
  );
}
